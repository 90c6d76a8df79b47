// Package vise is the first side: raw stock in a vise.
package vise

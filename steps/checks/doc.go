// Package checks is the steps and rechecks that several kinds of setup list.
package checks

// Package stick is a second side that no screws hold: vacuum inside a seal, or double-sided tape, under the part.
package stick

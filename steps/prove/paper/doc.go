// Package paper holds printed sheets against what they are to be: valid, closed in themselves, and every number on them
// the one that replay --json says, printed anew here from there.
//
// It knows a sheet by its HTML alone: it shares no code with what writes it but the printer of numbers.
package paper

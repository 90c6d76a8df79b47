// Package asmade is the arithmetic of making a fixture: what its own bore, probed before it
// leaves the table, says about the cutter and about the pads; and what pocket to cut.
//
// Goals: the place of the part against its pads with covariance, from one bore instead of
// from a ball radius in every wall; advice while it can still be cut. Positive is defined for
// each number, and said.
//
// Non-goals: it knows no job, card or step and judges by budget.Decide only.
//
// Units: mm, rad, K, percent of humidity and of moisture content. X right, Y away, Z up.
// The fixture's frame has its zero on the axis of bore 1 as programmed.
package asmade

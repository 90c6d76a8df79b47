// Package jaws is the arithmetic of a thin part gripped between jaws: how far a ring goes out
// of round by pressure over an arc of it, what force is gentle enough and what force is enough.
//
// Goals: the ring by closed formulas that pass through the published rows; the answer that no
// handle is gentle enough where that is so.
//
// Non-goals: flat walls and plates are hold's (Squeezed, Plate.Pressed).
//
// Units: mm, N, MPa, rad. Diameters grow positive.
package jaws

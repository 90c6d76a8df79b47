// Package dowel is the arithmetic of a part located by two pins: its play, what that does at
// a feature, how much a diamond pin frees, and whether heat jams it.
//
// Goals: worst case and standard uncertainty at any feature; the diamond by its exact
// geometry; the side to which the part is pushed in the result with its sign.
//
// Non-goals: it knows no budget of a job and no step.
//
// Units: mm, rad, K. The frame has its zero at pin 1, x along the line to pin 2.
package dowel

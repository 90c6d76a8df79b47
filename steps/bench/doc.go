// Package bench is a mill, a fixture and a part that are not there: it places
// things, measures them, and lets a scripted person walk a setup on them.
//
// A World is a seeded physical model made from a plan's job and cards. Do performs
// an act, Read returns what a person would type for an ask. Both follow the words of
// fold.What and steps.Act alone: no step is known here, so a new step needs no line.
//
// It shares no formula with what judges its readings, and imports nothing of the
// calculations but the units: it knows where things stand and finds where a ball
// touches them, never where they stand from where it was touched.
//
// The physical frame is square and straight. A machine coordinate is what its
// readout shows; Effects says by how much every part of the model departs from the
// drawing. With no effects every reading is nominal to the readout's last digit.
//
// What it leaves out: a part that is not pushed to its walls stands anywhere in its
// clearance but is not turned in it; after G92
// or a preset the origin is as if the spindle had stood over the true bore; the dial on
// the part counts + along the axis it stands on; nothing is hurt by a crash.
//
// Non-goals: cutting forces, chips that fly, time.
package bench

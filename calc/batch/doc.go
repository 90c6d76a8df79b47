// Package batch is the arithmetic of many blanks on one mounting: how often to look again, what
// a look can see, what drifts, and which parts are in doubt when something is found.
//
// Goals: an interval that weighs minutes against parts; frequencies that learn from what a
// shop's own records caught.
//
// Non-goals: it holds no list of parts and knows no step.
//
// Units: mm, rad, min.
package batch

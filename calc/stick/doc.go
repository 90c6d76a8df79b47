// Package stick is the arithmetic of a part held by a face that sticks: vacuum, or tape with
// or without adhesive. What it holds is a number of the shop's own, or it is nothing.
//
// Goals: capacity from a test on scrap, cut down by its own factors and by turning about the worst
// pole; leak, and how long a reservoir lasts; how far a thin floor is drawn into a hollow.
//
// Non-goals: no untested hold passes, and there is no second case: a pump that fails or a film
// that lets go leaves nothing. It knows no job and no step.
//
// Units: mm, N, MPa, degrees Celsius, min.
package stick

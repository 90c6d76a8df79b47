// Package report says on paper what a State says on the screen: the one-page record of a
// part, the tag that goes into the fixture's box, and a blank sheet of the walk for the
// day the computer dies.
//
// Everything here is a pure function of a State or a Plan. Numbers are in millimetres,
// radians turned into degrees; text prints them in the unit of the job.
//
// Non-goals: it judges nothing, reads no file and draws no picture.
package report

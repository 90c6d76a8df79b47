// Package rescue is the arithmetic after something let go in a cut: how the part lies now,
// told by faces that were already cut; the offset for it; what is left of the hold-down; and
// whether it is worth it.
//
// Goals: a motion with covariance that names the face which was cut too late; sources that
// disagree are said to disagree and never averaged.
//
// Non-goals: it reads no program (see ncode for the restart line) and sends nothing. It judges by
// budget.Decide only. Whether a person goes on is the person's.
//
// Units: mm, rad, min. Program coordinates of the interrupted setup, as the old offset has them,
// unless a name says machine.
package rescue

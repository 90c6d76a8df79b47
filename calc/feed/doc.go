// Package feed gives feeds and speeds as a window: from the chip that still cuts to the chip that
// the cutter bears, from the speed that cuts cleanly to the speed that melts or burns.
//
// Goals: every side of the window says what it comes from; thin chips at shallow width
// are reckoned as they are. A test on the offcut and the tool maker's numbers win.
//
// Non-goals: it enters nothing at a machine, and shipped rows are starting points only.
//
// Units: mm, m/min of surface, 1/min of spindle, mm/min of feed, N.
package feed

// Package ncode reads machine programs in RS-274/NGC and walks the motion they
// ask for.
//
// The language is the one of NISTIR 6556 (Kramer, Proctor, Messina, "The NIST
// RS274NGC Interpreter - Version 3", 2000; clause numbers in this package are of
// that document), with word addresses as in ISO 6983-1. Words that many controls
// add (G52, G54.1, G68 and G69, M98 and M99, O numbers, a semicolon comment) are
// read and noted as dialect.
//
// [Walk] streams: it reads in blocks, lexes them beside the walk, and hands each
// motion to a [Sink] in order. Memory does not grow with the program. Nothing is
// allocated for a line.
//
// What a program contains, and what speaks against it, comes back as a [Summary].
// Its [Finding] list has the line of each. A thing that could not be followed is a
// finding of severity [NotProven]: the verdict is then never a pass.
//
// # Coordinates
//
// Lengths are in millimetres, angles in radians, feeds in mm/min, whatever units
// the program is written in. W is the place of the tool tip from the origin of the
// active work offset; M is the place of the machine's axes. For a work offset with
// origin O, turned by the angle θ about that origin, and a tool of length L that
// the program has called with G43:
//
//	M = O + R(θ)·W + (0, 0, L)
//
// # The stock
//
// A height map follows the stock as the program cuts it: flat, ball and bull-nosed cutters
// by their shape, rapids and what turns above the cutting edges against what stands then.
// The map is a grid of places no more than 0.25 mm apart for parts up to about 300 by 250 mm,
// wider for larger ones (0.45 mm for 600 by 400), the first and the last on the rim of the part.
// [ToolUse.Step] is an upper bound of what any square of a place's width is cut to at once; a
// strip inside the part that is narrower than that, or than 0.02 mm anywhere, may be missed. A
// place counts by its height less that of the cutter when it comes there, or at the end of the
// move where that stands over it; steeper than 45 degrees a move counts as straight down.
//
// # Non-goals
//
// The stock is a box over the part: of a blank that is wider than the part nothing is known
// beside it. The point of a drill counts as flat. It applies no cutter radius compensation:
// with G41 or G42 the path is as programmed and the verdict is NOT PROVEN. It evaluates no
// conditions, no loops, no named parameters and no named subprograms. It knows no control's
// parameter page: a parameter read before the program sets it is NOT PROVEN. Rotary axes are
// refused a proof. It never says what a control will really do, only what the program says.
package ncode

// Package inspect tells apart what came out wrong on a two-sided part: where side 2 lies
// against side 1, how it is turned, how much larger it is, whether the machine is out of
// square; and says whether the fixture is to be corrected for it or left alone.
//
// Goals: place, turn, size and squareness with covariance from steps across the parting line
// and places of holes; what the readings cannot tell apart is said, never split by guess.
// A correction only by a rule that does not chase the scatter of parts.
//
// Non-goals: it knows no card, step or job. What makes a part not count (a mishap, a
// waiver, a rescue, a hot part) is handed in.
//
// Units: mm, rad. The part as it lies on the bench, side 2 up, its arrow as in the program;
// coordinates of side 2's program unless a name says from the middle. Positive: see each.
package inspect

// Package hold answers whether a part stays where it was put: clamps, screws and
// threads against the forces of the cut, the bow a clamp makes, the holes the screws
// need, and the reach of the tool.
//
// Two questions are kept apart everywhere. Register: may the part slip or turn? It
// spoils a part. Retention: may the part leave its seat? It throws a part, and no
// number here may be used to talk that question away.
//
// Every number that is not computed carries its range, source and Flag. Data for
// plastics and wood vary by a factor of two: a verdict is therefore taken at both ends
// of the range, and low fails with high passes is NotProven, never a pass.
//
// Conventions: lengths mm, forces N, torques N·mm, stresses MPa, angles rad, all through
// the types of calc/unit; positions are plain mm, areas plain mm², ratios plain numbers.
//
// Non-goals: no job, no step, no file, no finite elements, no vibration. A calculated
// force is an estimate; a skim cut and a stripped sacrificial thread are the proof.
package hold

// Verdict is the answer at both ends of a range.
type Verdict int

const (
	Fails     Verdict = iota // fails even at the favourable end
	NotProven                // holds at the favourable end only
	Holds                    // holds at the adverse end too
)

// String returns the verdict in words.
func (v Verdict) String() string {
	switch v {
	case Holds:
		return "holds"
	case NotProven:
		return "not proven"
	}
	return "fails"
}

// Decide turns the two ends into one verdict. An adverse end that holds although the
// favourable one does not is a fault of the caller's ranges and counts as NotProven.
func Decide(adverse, favourable bool) Verdict {
	switch {
	case adverse && favourable:
		return Holds
	case adverse || favourable:
		return NotProven
	}
	return Fails
}

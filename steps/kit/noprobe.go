package kit

import "fliptrue/steps/fold"

// Probes says that the machine has a probe: heights are touched with it, and it is what stands in
// the spindle before a cutter does.
func Probes(p *fold.Plan) bool { return p.Job.Machine.Probe != nil }

// finderNames is what finds places in a shop without a probe, by the setup's finds.
var finderNames = map[string]string{"dial": "dial", "edge finder": "edge finder", "pin": "gauge pin", "paper": "first tool"}

// FinderName names what finds places and stands in the spindle before a cutter does.
func FinderName(p *fold.Plan) string {
	if n := finderNames[p.Setup.Finds]; n != "" && !Probes(p) {
		return n
	}
	return "probe"
}

// FinderOut is the order to take it out.
func FinderOut(p *fold.Plan) string { return fold.Capital(FinderName(p)) + " OUT" }

// Thrown says what happens to it when the spindle starts.
func Thrown(p *fold.Plan) string {
	if n := FinderName(p); n != "first tool" {
		return "a " + n + " is thrown"
	}
	return "one that is not gripped right is thrown"
}

// Loose are the instruments that are counted before the spindle starts.
func Loose(p *fold.Plan) string {
	if Probes(p) {
		return "dials, probes and feelers"
	}
	return "dials, finders and feelers"
}

// ReadZ says how a height is read: at the probe's trigger, or over block or paper.
func ReadZ(p *fold.Plan) string {
	switch {
	case Probes(p):
		return "Machine Z at the trigger, no length taken off."
	case p.Setup.Finds == "paper":
		return "Z when the paper just drags under the tool; neither length nor paper taken off."
	}
	return "Z when the block just slides under the tool; neither length nor block taken off."
}

// Tip is what touches.
func Tip(p *fold.Plan) string {
	if Probes(p) {
		return "ball"
	}
	return "tip"
}

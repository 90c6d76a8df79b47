package outside

import (
	"fmt"
	"strings"
)

// Effect is one way in which the world differs from the drawing.
type Effect struct {
	Name    string
	Usual   float64 // half width of an even spread, or standard deviation where it says so
	Unit    string
	Meaning string
	Owner   string // the line of the budget that is to carry it; what begins with "not" has none
}

// All are the effects. A size of 0 switches one off.
var All = []Effect{
	{"repeat", 0.001, "mm", "one standard deviation of a trigger", "probe repeat of the card"},
	{"readout", 1, "steps", "readings are rounded to so many steps of the readout", "readout of the card"},
	{"aim", 0.1, "mm", "how far from the place named a touch lands", "none needed: harmless by geometry"},
	{"squareness", 1e-4, "rad", "Y leans against X, the same for fixture, side 1 and side 2", "squareness of the card"},
	{"bearing", 1, "switch", "the part bears along either wall, not always the long one", "squareness of the card"},
	{"lead", 0.002, "mm", "screws are wrong by a wave along their length", "machine: backlash of the card"},
	{"straight", 0.0005, "mm", "ways are bent by a wave", "edge: straightness assumed"},
	{"backlash", 0.003, "mm", "so much more is read coming from below than from above; the cut comes from either side", "machine: backlash of the card"},
	{"place", 4, "mm", "where the fixture is set down", "measured by the bore"},
	{"skew", 0.002, "rad", "how crooked the fixture is set down", "tapped away by the dial"},
	{"tilt", 5e-5, "rad", "the fixture's foot is not parallel to its floor", "floor touches"},
	{"bolts", 1e-5, "rad", "tightening turns the fixture", "read again when tight"},
	{"edge", 1e-5, "rad", "the edge runs otherwise than its card says", "edge zero of the card"},
	{"wall", 0.003, "mm", "each pocket wall stands off its place", "walls"},
	{"wall-lean", 1e-4, "rad", "each pocket wall leans", "walls"},
	{"size", 0.005, "mm", "each outer face of the part, by a worn cutter on side 1", "cutter, assumed"},
	{"pickup", 0.004, "mm", "side 1's features against its outer faces, X and Y", "side-1 pickup, assumed"},
	{"float", 0.9, "share", "where a floating part stands in the room of its pocket, 1 at most", "clearance"},
	{"turn", 5e-5, "rad", "the part does not lie flat along the wall it bears on", "seat turned, if there is a line"},
	{"lean", 5e-5, "rad", "the part leans on a chip or a burr, about X and Y", "not counted sideways"},
	{"radius", 0.003, "mm", "the ball triggers at another radius than the card's", "cancels"},
	{"eccentricity", 0.002, "mm", "ball off the spindle's axis against the card, X and Y", "probe, assumed"},
	{"lobes", 0.0005, "mm", "three lobes of the trigger radius", "probe, assumed"},
	{"refit", 0.004, "mm", "ball off once more when the probe was out", "part minus fixture"},
	{"dial", 1, "steps", "dial readings are rounded to so many graduations", "graduation of the card"},
	{"dial-drift", 0.0003, "mm", "the dial creeps over a run", "closing"},
	{"warm", 3, "K", "fixture warmer than on the day it was made", "temperature read"},
	{"thermometer", 0.3, "K", "the thermometer is wrong", "thermometer, assumed"},
	{"alpha", 0.1, "part", "the fixture's expansion differs from the handbook's", "half of the growth"},
	{"part-warm", 0.3, "K", "the part is warmer than the fixture", "part heat"},
	{"day", 1, "K", "the shop was warmer when side 1 was cut than at the walk", "part heat, if there is a line"},
	{"moist", 0.1, "%", "the part's moisture changed since side 1", "moisture"},
	{"damp", 5, "% RH", "the fixture's plastic was drier when it was made", "not counted with one bore"},
	{"drift", 0.002, "mm", "table against spindle, from the first event to the cut, X Y Z", "machine"},
	{"swap", 0.002, "mm", "the part moves when it is screwed down, X and Y", "shift read"},
	{"swap-turn", 2e-5, "rad", "and turns", "shift read"},
	{"moved", 0, "rad", "the fixture turns about its bore after it was read", "not counted"},
	{"probe-length", 0.003, "mm", "the probe's length as typed", "height only"},
	{"cutter-length", 0.01, "mm", "a tool's length as typed", "height only"},
	{"width", 0.002, "mm", "the micrometer reads wrong, each width its own", "width measured again"},
	{"hygrometer", 2, "% RH", "the hygrometer reads wrong", "width measured again, where widths are"},
	{"wrong-answer", 0, "share", "answers that are wrong", "not counted"},
	{"wrong-digit", 0, "share", "numbers with a digit from the key beside it", "not counted"},
	{"skipped-act", 0, "share", "keying in or tightening left out", "not counted"},
	{"growth", 0.01, "mm", "the spindle is longer at the cut than at the touch", "height only"},
}

// Step is the usual size, or that of an effect that is usually off.
func (e Effect) Step() float64 {
	if e.Usual == 0 && e.Unit == "share" {
		return 0.05
	}
	if e.Usual == 0 {
		return 1e-4
	}
	return e.Usual
}

// Sizes are the sizes in force, by name.
type Sizes map[string]float64

// Usual are all effects at their usual sizes.
func Usual() Sizes {
	s := Sizes{}
	for _, e := range All {
		s[e.Name] = e.Usual
	}
	return s
}

// With is the same with one effect at another size. An unknown effect is an error that lists the known.
func (s Sizes) With(name string, size float64) (Sizes, error) {
	if _, ok := s[name]; !ok {
		var known []string
		for _, e := range All {
			known = append(known, e.Name)
		}
		return nil, fmt.Errorf("effect %q: not known; known are %s", name, strings.Join(known, " "))
	}
	out := Sizes{}
	for k, v := range s {
		out[k] = v
	}
	out[name] = size
	return out, nil
}

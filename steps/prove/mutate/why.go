package mutate

import (
	"math"
	"regexp"
	"strings"
)

// Meaning is what a changed reading says of part, tool or hold when it is true, and what it does
// when it is not: how far something is off, mm. Kind hold and collision have no length: Off is 1
// where what was judged is not what is there.
type Meaning struct {
	Kind string // register, height, hold, collision; "" where the offset alone tells it
	Off  float64
}

// Meant is what a changed reading would mean.
func Meant(r Result) Meaning {
	name, d := r.Step+"/"+strings.TrimSuffix(r.Field, " before"), math.Abs(r.Delta)
	now := r.Value + r.Delta
	when := func(bad bool, kind string) Meaning {
		if bad {
			return Meaning{kind, 1}
		}
		return Meaning{}
	}
	switch {
	case strings.HasSuffix(r.Field, " before"):
		return Meaning{}
	case strings.HasPrefix(name, "lengths/t") && d > 3: // as wrong in the control, it would show at the gap under the tip
		return Meaning{}
	case heights.MatchString(name):
		return Meaning{"height", d}
	case sideways.MatchString(name):
		return Meaning{"register", d}
	case name == "straps/torque", name == "screws/torque" && r.Value > 0:
		return when(now <= 0.5*r.Value || now >= 2*r.Value, "hold")
	case name == "screws/torque":
		return when(now < 0, "hold")
	case name == "threads/turns", name == "seat/turns", name == "square/bolts", name == "screws/in":
		return when(now <= 0.5*r.Value, "hold")
	case name == "screws/pause":
		return when(d >= 0.3, "hold")
	case name == "screws/head":
		return when(now < r.Value-0.2, "collision")
	}
	return Meaning{}
}

var (
	heights = regexp.MustCompile(
		`^(lengths/t[0-9]+|(skim|drill)/(gap|depth|raised)|seat/(z#|rock#)|` +
			`(baseline|lift|shift|reference)/z#(\.#)?|(straps|screws/round#\.)/?z)$`)
	sideways = regexp.MustCompile(`^((baseline|shift|reference)/(px|py#)(\.#)?|straps/xy|unstrap/move|screws/round#\.[xy])$`)
)

// reason says why changes of the fields that it fits are released.
type reason struct {
	fits *regexp.Regexp
	why  string
}

func why(of []reason, name string) string {
	for _, r := range of {
		if r.fits.MatchString(name) {
			return r.why
		}
	}
	return ""
}

// Why says why changes of a field are released, "" when nobody has said it yet.
func Why(name string) string { return why(reasons, name) }

// WhyCard says why changes of a key leave a release standing, "" when nobody has said it yet.
func WhyCard(name string) string { return why(cardReasons, name) }

func re(s string) *regexp.Regexp { return regexp.MustCompile("^(" + s + ")$") }

// Reasons begin with their group. HOLE: nothing looks at it, though it can do harm.
var reasons = []reason{
	{re(`.* before`), "read again: a newer round counts"},
	{re(`lengths/runby`), "choice: runout need not be measured; said where it is waived"},
	{re(`lengths/t[0-9]+\.run`), "HOLE, small: a negative runout is taken; a true one is held to its limit"},
	{re(`lengths/t[0-9]+`), "seen elsewhere from walk 3 on: at the mill the skimmed face over the rim comes out by it, in a record it stays as typed. HOLE before walk 3"},
	{re(`lengths/tprobe.*`), "seen elsewhere: it moves Z, and the skimmed face over the rim decides on Z; in a record that stays as typed"},
	{re(`(drill|skim)/gap`), "a coarse look, limit 3 mm; from walk 3 on a block and the skim decide. HOLE before walk 3"},
	{re(`drill/depth`), "within its limit: room in the relief and over the floor"},
	{re(`square/(low|high)`), "read better later: the run with all bolts tight counts, but it is not held against these"},
	{re(`square/bolts`), "HOLE: any count passes, 0 too; the bolts are tried again at the pause of the bore"},
	{re(`square/s#`), "within its limit: one of seven stations, a slope of a few microradians, which the offset carries"},
	{re(`bore2?/(b2)?hit#\.[xy]`), "within its limit: across its direction a hit says nothing; along it 0.01 of one in six moves the middle by 0.003"},
	{re(`floor/z#`), "within its limit: one of five touches"},
	{re(`floor/rim#`), "within its limit: the rim is held against the card's depth"},
	{re(`mount/warmth`), "choice: of metal no thermometer is asked; the budget counts what is not known"},
	{re(`(mount|seat)/temp`), "within its limit: a kelvin, carried by the budget"},
	{re(`seat/(rock#|z#)`), "within its limit of 0.010 and 0.015"},
	{re(`straps/torque`), "within its bounds from walk 3 on; the hold of the drilling is reckoned with the job's. HOLE before walk 3"},
	{re(`straps/(xy|z)|unstrap/move|screws/round#\.[xyz]`), "within its limit of 0.005 to 0.010"},
	{re(`reference/way`), "choice: the set may be left, and a later bump then costs the seat"},
	{re(`(baseline|shift|lift|reference)/.*`), "within its limit: pairs and the shift share 0.2 of the allowance"},
	{re(`(threads|seat)/turns`), "a count that is enough passes. HOLE before walk 3: any count, 0 too"},
	{re(`screws/pause`), "within its limit: the screw does not bottom; a shorter one is held"},
	{re(`screws/torque`), "of another torque the hold is judged again. HOLE before walk 3: a negative one is taken"},
	{re(`screws/head`), "a lower head is believed within its bounds; a higher one is held. HOLE before walk 3: negative too"},
	{re(`skim/raised`), "within its limit"},
	{re(`mount/place`), "the other answer has the fixture's warmth read instead"},
	{re(`bore/(b2|b#)?f#`), "within its limit: a hundredth of one of four hits moves the middle by half of it, and widths are held against the card"},
	{re(`seat/width-.`), "within its limit: the width is held against pocket and card; the budget counts what it is known within"},
	{re(`(drill|skim)/near`), "within its limit: the coarse look before the block; what is nearer is held"},
	{re(`still/(b#)?f#`), "within its limit: the fixture's place once more, 0.2 of the allowance"},
	{re(`skim/(pass|face|rim)`), "within its limit: the skimmed face over the rim decides on Z to 0.02"},
	{re(`skim/finished`), "it says how much is left to mend Z in; where Z is right nothing is mended"},
	{re(`skim/kept`), "choice: the other way of keeping Z is as good"},
}

var cardReasons = []reason{
	{re(`(job|machine)\.(job|machine)|machine\.probe\.source|fixture\.threads\.(cycles|retire)`), "a name or a count: nothing was measured against it"},
	{re(`fixture\.as-made\.bore2.*`), "not used: the setup does not read the second bore"},
	{re(`fixture\.as-made\.edge\.(from|length|side).*`), "judged again: the run counts by its own distances, its sign by the jog test, and the skew passes"},
	{re(`fixture\.as-made\.floor\.(depth|under)`), "judged again: room under the drill and the rim's height still pass"},
	{re(`fixture\.pocket\.outline.*`), "not used: part-zero and clearance carry the offset; the outline is where floor and rim are touched"},
	{re(`fixture\.support.*`), "over: it bears the strap tips, and the straps are off"},
	{re(`fixture\.(material|as-made\.temperature)`), "judged again: of metal, a kelvin or another alloy passes"},
	{re(`fixture\.threads\.relief`), "judged again: the drill still ends in it"},
	{re(`fixture\.threads\.depth`), "judged again: more thread than the screw needs"},
	{re(`job\.setups\.[^.]*\.clamps.*`), "over: the straps are off at the release"},
	{re(`job\.setups\.[^.]*\.hold-down`), "judged again: the same steps were walked"},
	{re(`machine\.(backlash|squareness|readout)|machine\.probe\.(dof|repeat)|machine\.dial\.graduation`), "judged again: the budget with it still passes"},
	{re(`machine\.delivers`), "over: how the offset was keyed in"},
	{re(`machine\.tram.*`), "judged again: the kink that the head's tilt makes still passes; of 0.5/300 it does not"},
	{re(`machine\.travel.*`), "judged again: the programs stay inside"},
}

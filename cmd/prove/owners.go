package main

import (
	"fmt"
	"strings"

	"fliptrue/steps/kit"
)

// owner says who answers for an effect of the bench: a line of the register's budget, or nobody, and why that may be.
type owner struct {
	effect string
	lines  []string // any of which carries it, by the walk
	not    string   // what is not counted: the words of the table, "" where a line carries it
	source string   // of its size
}

const (
	practice = "common practice"
	card     = "machine card"
	drawnOut = "drawn from" // of what is spread wide on purpose: it is measured
)

var byBore = []string{"bore", "bore, skew and scale"}
var bySkew = []string{"skew", "bore, skew and scale"}

// erring is how many of a hundred answers a person gives wrong who answers by heart.
const erring = 8

// owners are those of all effects; a test holds that each line named stands in a walk's budget and that none is left out.
var owners = []owner{
	{"SetDown", byBore, "", drawnOut + " wherever a hand sets it down"},
	{"Skew", bySkew, "", drawnOut + " wherever a hand sets it down"},
	{"FloorTilt", nil, "height alone: the floor is touched, the first cut is measured", practice},
	{"FloorForm", nil, "height alone: the floor is touched, the first cut is measured", practice},
	{"BoreSize", byBore, "", practice},
	{"Bore2Place", bySkew, "", practice},
	{"Warmer", []string{"heat", "growth by one bore", "bore, skew and scale"}, "", "chosen, not drawn"},
	{"Growth", []string{"heat", "growth by one bore", "bore, skew and scale"}, "", practice},
	{"GrowthShare", []string{"growth by one bore", "bore, skew and scale"}, "", "judgement"},
	{"Thermometer", []string{"heat"}, "", practice},
	{"EdgeForm", bySkew, "", practice},
	{"AxisSlope", bySkew, "", card + ": straightness"},
	{"Noise", byBore, "", card + ": repeat"},
	{"Lobes", []string{"probe's lobes"}, "", "three contacts in the probe, from memory"},
	{"Radius", byBore, "", practice},
	{"Finder", byBore, "", practice},
	{"ProbeBias", []string{"probe"}, "", practice},
	{"Refit", []string{"shift test"}, "", practice},
	{"RefitLength", nil, "height alone: what was touched before the probe was out is not compared with what was touched after", practice},
	{"Runout", nil, "size of the walls, not their place: the dial at the shank stops it from 0.02 on, not at level proven", practice},
	{"LengthError", nil, "height alone: the first cut is measured", practice},
	{"Backlash", []string{"machine"}, "", card + ": half of it"},
	{"Positioning", []string{"machine"}, "", card + ": backlash"},
	{"Squareness", []string{"squareness"}, "", card},
	{"ZLean", nil, "0.0002 mm sideways between where it is touched and where it is cut", practice},
	{"Readout", byBore, "", card},
	{"DialAngle", bySkew, "", practice},
	{"DialSense", bySkew, "", "either way"},
	{"DialRound", bySkew, "", card + ": graduation"},
	{"DialDrift", bySkew, "", practice},
	{"TapScatter", bySkew, "", practice},
	{"Twist", bySkew, "", practice},
	{"WallContact", []string{"wall contact"}, "", practice},
	{"Floating", []string{"clearance"}, "", "fixture card"},
	{"Pickup", []string{"side-1 pickup"}, "", practice},
	{"SideOne", []string{"machine, side 1"}, "", card + ": backlash"},
	{"Cutter", []string{"cutter"}, "", practice},
	{"Moisture", []string{"width measured again"}, "", "0.2 percent across the grain, tables of wood"},
	{"Damp", []string{"width measured again"}, "", practice},
	{"PartHeat", []string{"width measured again"}, "", practice},
	{"Parallel", nil, "height alone: the top is cut away", practice},
	{"StrapBow", nil, "height alone: the dial at the straps stops it from 0.03 on", practice},
	{"Swap", []string{"shift test"}, "", practice},
	{"SwapTurn", []string{"shift test"}, "", practice},
	{"Thread", nil, "what it holds, not where: torque, a count of soft screws, and the lines after the first cut", practice},
	{"Drill", nil, "depth of a hole, not its place: the depth is measured from level first use on", practice},
	{"SeatTurn", []string{"turn at the walls"}, "", practice},
	{"SeatLean", nil, "half of the part's thickness times the lean, 0.0002 mm sideways; in height rock and strips see more", practice},
	{"Bearing", []string{"squareness"}, "", "either wall"},
	{"FixtureDamp", []string{kit.DampLine, "bore, skew and scale"}, "", "a season, common practice"},
	{"Lead", []string{"lead", "lead of side 1"}, "", "V300p of ISO 3408-3, from memory"},
	{"Drift", nil, "0.002 mm: bore and far end are read again last thing from level first use on, which names more than its limit", practice},
	{"SpindleGrowth", nil, "thickness alone, up to 0.01 mm thinner: what it grew by the first cut is in the first cut's height, the rest is not",
		practice},
	{"SwapLift", nil, "height alone: heights before and after at level irreplaceable, the first cut at each", practice},
	{"SwapLean", []string{"lean at the swap"}, "", practice},
	{"WrongAnswer", nil, "no interval holds a person who errs: see the table of persons", "3 to 15 of a hundred by heart, common practice"},
	{"WrongDigit", nil, "no interval holds a person who errs: what is far from its prediction is asked again", "judgement"},
	{"SkippedAct", nil, "no interval holds a person who errs: strips, read-back and a second reading see most", "judgement"},
}

// ownerOf is that of an effect.
func ownerOf(effect string) (owner, error) {
	for _, o := range owners {
		if o.effect == effect {
			return o, nil
		}
	}
	return owner{}, fmt.Errorf("effect %s has neither a line in the budget nor a word why none; write one in owners.go", effect)
}

// String is the owner as a table says it.
func (o owner) String() string {
	if o.not != "" {
		return "not counted: " + o.not
	}
	return strings.Join(o.lines, " | ")
}

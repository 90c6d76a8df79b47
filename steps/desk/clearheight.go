package desk

import (
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// ClearHeight is a height in the program's coordinates that clears by 10 mm, rounded up,
// everything that stands there now, and what the highest of it is. The pocket's rim always
// stands; on says which facts do: the part with seat, its straps with clamps, its screw
// heads with screws. What neither job nor cards give a height is not in it.
func ClearHeight(p *fold.Plan, on func(fold.FactID) bool, thick float64) (z float64, highest string) {
	top, highest := 0.0, "Z0"
	raise := func(z float64, name string) {
		if z > top {
			top, highest = z, name
		}
	}
	for _, o := range p.Setup.Obstacles {
		raise(o.Top, o.Name)
	}
	if p.Raw() {
		if p.Setup.Z0 == "finished top" {
			raise(p.Job.Part.Skin[0], "the stock's top")
		}
		raise(p.Setup.Vise.JawTop, "the jaws")
	} else {
		seat := SeatZ(p)
		raise(seat+p.Job.Fixture.AsMade.Floor.Depth, "the fixture's rim")
		if on("seat") {
			raise(seat+thick, "the part's top")
		}
		if h, ok := HeadTop(p, 0); ok && on("screws") {
			raise(h, "a screw head")
		}
		for _, c := range p.Setup.Clamps {
			if on("clamps") {
				raise(c.Top, "clamp "+c.Name)
			}
		}
	}
	margin, step := 10.0, 1.0
	if p.Job.Unit == unit.Imperial {
		margin, step = 0.4*float64(unit.Inch), 0.05*float64(unit.Inch)
	}
	return math.Ceil((top+margin)/step-1e-9) * step, highest
}

// JogOver is the first move by an offset that is in the control: which tool, with which
// length, over what and how high.
func JogOver(p *fold.Plan, v fold.View, zero string) string {
	z, highest := ClearHeight(p, v.Standing, kit.ThicknessNow(p, v))
	return "Feed hold in hand, " + picker(p) + " in, its length active. Jog to W Z" + kit.Signed(p, z) +
		", clear of " + highest + ", only then X0 Y0. It must stand over the " + zero + "."
}

// picker is what touched the floor and is in the spindle still: the probe, or a tool.
func picker(p *fold.Plan) string {
	if kit.ZDatum(p) == "length/probe" {
		return "the probe"
	}
	return kit.ToolName(p, kit.ZDatum(p).Thing())
}

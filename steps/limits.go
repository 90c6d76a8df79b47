package steps

import (
	"math"

	"fliptrue/calc/unit"
)

func share(s float64) func(*Plan) float64 {
	return func(p *Plan) float64 { return s * float64(p.Job.Allowance) }
}
func fixed(mm float64) func(*Plan) float64 { return func(p *Plan) float64 { return p.sensible(mm) } }
func always(v float64) func(*Plan) float64 { return func(*Plan) float64 { return v } }

// sensible is a fixed limit as its shop would set it: round in the job's own unit, in inches
// to a tenth of a thou, or to a thou from 0.1 mm on.
func (p *Plan) sensible(mm float64) float64 {
	if p.Job.Unit != unit.Imperial {
		return mm
	}
	step := 1e-4 * float64(unit.Inch)
	if mm >= 0.1 {
		step *= 10
	}
	return math.Max(math.Round(mm/step), 1) * step
}

// limitRows are the limits that kinds share: shares of the register allowance, or
// lengths (common practice, from memory), each replaceable by the job.
var limitRows = []LimitRow{
	{"repeat", "two readings of one thing agree", "3.5 s of the probe, 2 readout steps, {0.003}: the largest; of many pairs the worst by chance once in 300 sets", Soft, unit.KLength, (*Plan).repeatLimit, false},
	{"length.repeat", "two touches of one length agree", "{0.005}", Soft, unit.KLength, fixed(0.005), false},
	{"square.skew", "skew the offset can carry", "what the offset leaves, at most 0.2 of the allowance at the farthest feature", Soft, unit.KSlope, (*Plan).skewCap, false},
	{"square.closing", "the dial comes back to its first reading", "1 graduation, or {0.002}", Soft, unit.KLength, (*Plan).closingLimit, false},
	{"bore.size", "the bore has its size as made", "{0.008} and its growth by heat", Soft, unit.KLength, fixed(0.008), false},
	{"bore.radius", "opposite sides leave the finder's own radius", "{0.010}, 3.5 s of it: the larger", Soft, unit.KLength, fixed(0.010), false},
	{"bore.sweep", "X and Y of a sweep agree: the bore is round and clean", "2 graduations", Soft, unit.KLength, func(p *Plan) float64 { return 2 * p.Job.Machine.Dial.Graduation }, false},
	{"bore.centred", "the spindle stands on the centre", "1 graduation, 1 readout step: the larger", Soft, unit.KLength, func(p *Plan) float64 { return math.Max(p.Job.Machine.Dial.Graduation, p.Job.Machine.Readout) }, false},
	{"bore.form", "the bore is round", "2 s of the probe, {0.003}: the larger", Soft, unit.KLength, (*Plan).formLimit, false},
	{"bore.skews", "edge and two bores agree in direction", "3 standard uncertainties", Soft, unit.KSlope, nil, false},
	{"floor.tilt", "tilt of the pocket floor over the pocket", "0.2 of the allowance", Soft, unit.KLength, share(0.2), false},
	{"floor.form", "the floor touches lie in a plane", "the repeat limit, {0.010}: the larger", Soft, unit.KLength, func(p *Plan) float64 { return math.Max(p.sensible(0.010), p.repeatLimit()) }, false},
	{"offset.register", "error at the worst feature from machine and fixture", "0.5 of the allowance", Hard, unit.KLength, share(0.5), false},
	{"seat.rock", "the part does not rock", "{0.010}", Soft, unit.KLength, fixed(0.010), false},
	{"seat.parallel", "part top against pocket floor", "{0.015}", Soft, unit.KLength, fixed(0.015), false},
	{"straps.move", "the part stays where it is while strapped", "{0.010}", Soft, unit.KLength, fixed(0.010), false},
	{"straps.bow", "the straps do not bow the part", "{0.005}", Soft, unit.KLength, fixed(0.005), false},
	{"drill.place", "a hole stands where it belongs", "0.1 of the allowance, 2 steps of the readout: the larger", Hard, unit.KLength, func(p *Plan) float64 { return math.Max(0.1*float64(p.Job.Allowance), 2*p.Job.Machine.Readout) }, false},
	{"drill.depth", "the first hole has its depth", "{0.2}", Soft, unit.KLength, fixed(0.2), false},
	{"lift", "the part was not lifted by drilling", "{0.005}", Soft, unit.KLength, fixed(0.005), false},
	{"screws.round", "movement in one round of tightening", "{0.005}", Soft, unit.KLength, fixed(0.005), false},
	{"screws.total", "movement over all rounds", "{0.010}", Soft, unit.KLength, fixed(0.010), false},
	{"screws.shift", "movement of the part while screwed, each direction", "0.2 of the allowance", Hard, unit.KLength, share(0.2), false},
	{"unstrap.move", "the part stays when the straps come off", "{0.010}", Soft, unit.KLength, fixed(0.010), false},
	{"shift.register", "motion at the worst feature since the baseline", "0.2 of the allowance", Hard, unit.KLength, share(0.2), false},
	{"release.register", "mismatch at the worst feature", "the register allowance", Hard, unit.KLength, share(1), false},
	{"check.bore", "bore centre as before", "{0.010}, {0.005} after a bump", Soft, unit.KLength, fixed(0.010), false},
	{"check.size", "bore size as before", "{0.008}", Soft, unit.KLength, fixed(0.008), false},
	{"check.floor", "floor as before", "{0.010}, {0.005} after a tap", Soft, unit.KLength, fixed(0.010), false},
	{"check.seat", "part on fixture as in the first baseline", "0.2 of the allowance", Hard, unit.KLength, share(0.2), false},
	{"check.ball", "radius as before", "{0.003}", Soft, unit.KLength, fixed(0.003), false},
	{"check.eccentricity", "eccentricity as before", "{0.005}", Soft, unit.KLength, fixed(0.005), false},
	{"check.probe", "probe length as before", "{0.005}", Soft, unit.KLength, fixed(0.005), false},
	{"check.tool", "tool length as before", "{0.010}", Soft, unit.KLength, fixed(0.010), false},
	{"check.depth", "hole depth as before", "{0.2}", Soft, unit.KLength, fixed(0.2), false},
	{"next.bore", "bore as for the part before", "{0.005}, {0.010} after the probe was refitted", Soft, unit.KLength, fixed(0.005), false},
}

// probeS is the repeatability of one contact of the probe, or of what the job finds
// with where there is none, mm, never below what the readout can show.
func (p *Plan) probeS() (s, dof float64) {
	m := &p.Job.Machine
	switch {
	case m.Probe != nil:
		s, dof = m.Probe.Repeat, m.Probe.Dof
	case p.Setup.Finds == "edge finder" && m.Finder != nil:
		s, dof = m.Finder.Repeat, typeB
	case p.Setup.Finds == "paper":
		s, dof = paperRepeat, typeB
	default: // a dial resolves its graduation
		s, dof = m.Dial.Graduation/math.Sqrt(12), typeB
	}
	return math.Max(s, m.Readout/math.Sqrt(12)), dof
}

func (p *Plan) repeatLimit() float64 {
	s, _ := p.probeS()
	return math.Max(p.sensible(0.003), math.Max(3.5*s, 2*p.Job.Machine.Readout))
}

func (p *Plan) formLimit() float64 {
	s, _ := p.probeS()
	return math.Max(p.sensible(0.003), 2*s)
}

func (p *Plan) closingLimit() float64 {
	return math.Max(p.sensible(0.002), p.Job.Machine.Dial.Graduation)
}

// reach is the distance of the farthest listed feature from the part zero, mm.
func (p *Plan) reach() float64 {
	r := 0.0
	for _, f := range p.Job.Part.Features {
		r = math.Max(r, math.Hypot(f.At.X, f.At.Y))
	}
	if r == 0 {
		r = math.Hypot(p.Job.Part.Size[0], p.Job.Part.Size[1])
	}
	return r
}

func (p *Plan) skewCap() float64 { return 0.2 * float64(p.Job.Allowance) / math.Max(p.reach(), 1) }

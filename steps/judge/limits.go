package judge

import (
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/pickup"
	"fliptrue/calc/register"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

func Share(s float64) func(*fold.Plan) float64 {
	return func(p *fold.Plan) float64 {
		if s < 1 {
			return s * Before(p)
		}
		return s * float64(p.Job.Allowance)
	}
}

// skinShare is the part of a witness cut's skin that what is measured by it may be off before (common practice, from memory).
const skinShare = 1.0 / 6

// Before is the allowance that shares are taken of: the job's, or where a witness cut measures the register itself, what
// its skin still brings back.
func Before(p *fold.Plan) float64 {
	if WitnessCuts(p) {
		return math.Max(float64(p.Job.Allowance), skinShare*p.Setup.Cut.Witness)
	}
	return float64(p.Job.Allowance)
}

// WitnessCuts says that the walk has a witness cut: the job has left skin for it, and the level reads that much.
func WitnessCuts(p *fold.Plan) bool {
	return p.Setup.Cut.Witness > 0 && p.Level() != fold.Full && p.Reads(fold.Irreplaceable)
}

// ThickShare is a share of the thickness allowance.
func ThickShare(s float64) func(*fold.Plan) float64 {
	return func(p *fold.Plan) float64 { return s * float64(p.Job.Thickness) }
}

func Fixed(mm float64) func(*fold.Plan) float64 {
	return func(p *fold.Plan) float64 { return p.Sensible(mm) }
}

func Always(v float64) func(*fold.Plan) float64 { return func(*fold.Plan) float64 { return v } }

// LimitRows are the limits that kinds share: shares of the register allowance, or
// lengths (common practice, from memory), each replaceable by the job.
var LimitRows = []fold.LimitRow{
	{ID: "repeat", Why: "difference of two readings of one thing", How: "3.5 s of the probe, 2 readout steps, {0.003}: the largest; of many pairs the worst by chance once in 300 sets", Class: fold.Soft, Unit: unit.KLength, Max: RepeatLimit, Min: false},
	{ID: "length.repeat", Why: "difference of two touches of one length", How: "{0.005}", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.005), Min: false},
	{ID: "square.skew", Why: "skew of the fixture", How: "what the offset leaves, at most 0.2 of the allowance at the farthest feature; less in a vise", Class: fold.Soft, Unit: unit.KSlope, Max: skewCap, Most: Always(0.005), Min: false},
	{ID: "square.closing", Why: "dial back at its first place, off by", How: "1 graduation, or {0.002}", Class: fold.Soft, Unit: unit.KLength, Max: ClosingLimit, Min: false},
	{ID: "bore.size", Why: "size of the bore against the card", How: "{0.008} and its growth by heat", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.008), Min: false},
	{ID: "bore.radius", Why: "finder's radius from opposite sides", How: "{0.010}, 3.5 s of it: the larger", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.010), Min: false},
	{ID: "bore.sweep", Why: "X against Y of the sweep", How: "2 graduations", Class: fold.Soft, Unit: unit.KLength, Max: func(p *fold.Plan) float64 { return 2 * p.Job.Machine.Dial.Graduation }, Min: false},
	{ID: "bore.centred", Why: "spindle off the centre", How: "1 graduation, 1 readout step: the larger", Class: fold.Soft, Unit: unit.KLength, Max: func(p *fold.Plan) float64 { return math.Max(p.Job.Machine.Dial.Graduation, p.Job.Machine.Readout) }, Min: false},
	{ID: "bore.form", Why: "roundness of the bore", How: "2 s of the probe, {0.003}: the larger", Class: fold.Soft, Unit: unit.KLength, Max: formLimit, Min: false},
	{ID: "bore.skews", Why: "direction of the edge against the two bores", How: "3 standard uncertainties", Class: fold.Soft, Unit: unit.KSlope, Max: nil, Min: false},
	{ID: "floor.tilt", Why: "tilt of the pocket floor over the pocket", How: "0.2 of the allowance", Class: fold.Soft, Unit: unit.KLength, Max: Share(0.2), Most: Share(1), Min: false},
	{ID: "floor.rim", Why: "rim over the floor, off the card", How: "{0.012}, 4 times the scatter of a touch: the larger", Class: fold.Hard, Unit: unit.KLength, Max: func(p *fold.Plan) float64 { s, _ := ProbeS(p); return math.Max(p.Sensible(0.012), 4*s) }, Min: false},
	{ID: "floor.form", Why: "floor touches off a plane", How: "the repeat limit, {0.010}: the larger", Class: fold.Soft, Unit: unit.KLength, Max: func(p *fold.Plan) float64 { return math.Max(p.Sensible(0.010), RepeatLimit(p)) }, Min: false},
	{ID: "offset.register", Why: "error at the worst feature from machine and fixture", How: "0.5 of the allowance", Class: fold.Hard, Unit: unit.KLength, Max: Share(0.5), Most: Share(1), Min: false},
	{ID: "seat.rock", Why: "rock of the part", How: "{0.010}", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.010), Min: false},
	{ID: "seat.parallel", Why: "part top against pocket floor", How: "{0.015}", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.015), Min: false},
	{ID: "straps.move", Why: "movement of the part while strapped", How: "{0.010}", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.010), Min: false},
	{ID: "straps.bow", Why: "bow of the part under the straps", How: "{0.005}", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.005), Min: false},
	{ID: "drill.place", Why: "place of a hole", How: "0.1 of the allowance, 2 steps of the readout: the larger", Class: fold.Hard, Unit: unit.KLength, Max: func(p *fold.Plan) float64 { return math.Max(0.1*float64(p.Job.Allowance), 2*p.Job.Machine.Readout) }, Most: Share(1), Min: false},
	{ID: "drill.depth", Why: "depth of the first hole, off by", How: "{0.2}", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.2), Min: false},
	{ID: "lift", Why: "lift of the part by drilling", How: "{0.005}", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.005), Min: false},
	{ID: "seat.height", Why: "height of the part against its thickness", How: "the thickness allowance", Class: fold.Hard, Unit: unit.KLength, Max: ThickShare(1), Min: false},
	{ID: "baseline.height", Why: "height of the part since it was seated", How: "{0.010}, what these touches can tell: the larger", Class: fold.Hard, Unit: unit.KLength, Max: Fixed(0.010), Min: false},
	{ID: "screws.round", Why: "movement in one round of tightening", How: "{0.005}", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.005), Min: false},
	{ID: "screws.total", Why: "movement over all rounds", How: "{0.010}", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.010), Min: false},
	{ID: "screws.shift", Why: "movement of the part while screwed, each direction", How: "0.2 of the allowance", Class: fold.Hard, Unit: unit.KLength, Max: Share(0.2), Most: Share(1), Min: false},
	{ID: "unstrap.move", Why: "movement of the part as the straps come off", How: "{0.010}", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.010), Min: false},
	{ID: "shift.register", Why: "motion at the worst feature since the baseline", How: "0.2 of the allowance", Class: fold.Hard, Unit: unit.KLength, Max: Share(0.2), Most: Share(1), Min: false},
	{ID: "shift.lift", Why: "height of the part's top since the baseline", How: "{0.005}, what these touches can tell: the larger", Class: fold.Hard, Unit: unit.KLength, Max: Fixed(0.005), Min: false},
	{ID: "shift.lean", Why: "lean of the part, end to end, since the baseline", How: "{0.005}, what these touches can tell: the larger", Class: fold.Hard, Unit: unit.KLength, Max: Fixed(0.005), Min: false},
	{ID: "screws.lift", Why: "height of the part where the dial stood, all screws in", How: "{0.005}, 1 graduation: the larger", Class: fold.Hard, Unit: unit.KLength,
		Max: func(p *fold.Plan) float64 { return math.Max(p.Sensible(0.005), p.Job.Machine.Dial.Graduation) }, Min: false},
	{ID: "release.register", Why: "mismatch at the worst feature", How: "the register allowance", Class: fold.Hard, Unit: unit.KLength, Max: Share(1), Most: Share(1), Min: false},
	{ID: "check.bore", Why: "change of the bore centre", How: "{0.010}, {0.005} after a bump; 3.5 s of what finds it, where that is larger", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.010), Min: false},
	{ID: "check.size", Why: "change of the bore size", How: "{0.008}", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.008), Min: false},
	{ID: "check.floor", Why: "change of the floor", How: "{0.010}, {0.005} after a tap", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.010), Min: false},
	{ID: "check.seat", Why: "movement of the part since the first baseline", How: "0.2 of the allowance", Class: fold.Hard, Unit: unit.KLength, Max: Share(0.2), Most: Share(1), Min: false},
	{ID: "check.ball", Why: "change of the radius", How: "{0.003}", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.003), Min: false},
	{ID: "check.eccentricity", Why: "change of the eccentricity", How: "{0.005}", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.005), Min: false},
	{ID: "check.probe", Why: "change of the probe length", How: "{0.005}", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.005), Min: false},
	{ID: "check.tool", Why: "change of the tool length", How: "{0.010}", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.010), Min: false},
	{ID: "check.depth", Why: "change of the hole depth", How: "{0.2}", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.2), Min: false},
	{ID: "next.bore", Why: "bore against the part before", How: "{0.005}, {0.010} after the probe was refitted", Class: fold.Soft, Unit: unit.KLength, Max: Fixed(0.005), Min: false},
}

// ProbeS is the repeatability of one contact of the probe, or of what the job finds
// with where there is none, mm, never below what the readout can show.
func ProbeS(p *fold.Plan) (s, dof float64) {
	m := &p.Job.Machine
	switch {
	case m.Probe != nil:
		s, dof = m.Probe.Repeat, m.Probe.Dof
	case p.Setup.Finds == "edge finder" && m.Finder != nil:
		s, dof = m.Finder.Repeat, TypeB
	case p.Setup.Finds == "paper":
		s, dof = PaperRepeat, TypeB
	default: // a dial resolves its graduation
		s, dof = pickup.StepU(m.Dial.Graduation), TypeB
	}
	return math.Max(s, pickup.StepU(m.Readout)), dof
}

// BoreMoved is check.bore: at least what two readings of one centre differ by, by what finds it (3.5 s, half of the
// points between them). A bump halves the rest. Records of earlier walks took 0.010 for every finder.
func BoreMoved(p *fold.Plan, later, bumped bool) fold.Limit {
	l := p.Limit("check.bore")
	if bumped {
		l.Max /= 2
	}
	if s, _ := ProbeS(p); later {
		l.Max = math.Max(l.Max, 3.5*s)
	}
	return l
}

func RepeatLimit(p *fold.Plan) float64 {
	s, _ := ProbeS(p)
	return math.Max(p.Sensible(0.003), math.Max(3.5*s, 2*p.Job.Machine.Readout))
}

func formLimit(p *fold.Plan) float64 {
	s, _ := ProbeS(p)
	return math.Max(p.Sensible(0.003), 2*s)
}

func ClosingLimit(p *fold.Plan) float64 {
	return math.Max(p.Sensible(0.002), p.Job.Machine.Dial.Graduation)
}

// Reach is the distance of the farthest listed feature from the part zero, mm.
func Reach(p *fold.Plan) float64 {
	var at []frame.Vec
	for _, f := range p.Job.Part.Features {
		at = append(at, frame.Vec{X: f.At.X, Y: f.At.Y})
	}
	return register.Reach(at, frame.Vec{X: p.Job.Part.Size[0], Y: p.Job.Part.Size[1]})
}

// skewCap is the most skew that may stay; in a vise nothing carries it: 0.1 of the allowance over 100 mm.
func skewCap(p *fold.Plan) float64 {
	if p.Setup.Vise.Jaw != "" {
		return 0.1 * Before(p) / 100
	}
	return register.SkewCap(Before(p), Reach(p))
}

// Standard deviation of a contact felt through paper, mm (estimate, common practice).
const PaperRepeat = 0.010

// TypeB are the degrees of freedom given to an instrument whose repeat is known from its card or by practice.
const TypeB = 50

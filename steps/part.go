package steps

import "math"

// What side 1 leaves for side 2, in the part's own terms (mm, rad). Each is a fact of
// the record that side 2 picks up, or a value given in the job.
//
//	part/thickness  [t taper]        cov 1: as it came out of the vise, mean of its corners; highest less lowest
//	part/width-x    [w off]          cov 1: outer width along X, and what it is beyond the drawing; width-y along Y
//	part/wall       [t]              cov 1: the wall that stays
//	part/seat       [z tiltx tilty flat] cov 1: the face that side 2 rests on, in side-1 program coordinates
//	part/edges      [xside yside]    cov 2: the stock edges that side 1 was picked up from, -1 left or front, +1 right
//	                                 or rear, 0 the middle; cov of the pickup
//	part/holes      [n]              clearance holes for side 2, drilled on side 1
//	part/spring     [d]              movement of the wall when the vise was opened
//	part/hours      [h clock]        clock 1: hours of Unix time when it came out; clock 0: hours between the sides, as given
var partFacts = []FactID{"part/thickness", "part/width-x", "part/width-y", "part/wall", "part/seat", "part/edges", "part/holes", "part/spring", "part/hours"}

// givenPart are the part facts that the job gives.
func givenPart(p *Plan) []Fact {
	var out []Fact
	if p.Setup.Kind != secondSide {
		return nil
	}
	for _, k := range []string{"thickness", "width-x", "width-y", "hours"} {
		g, ok := p.Job.Part.Given[k]
		if !ok {
			continue
		}
		f := Fact{ID: FactID("part/" + k), Value: []float64{g.Value, 0}, Cov: [][]float64{{g.U * g.U}}}
		switch k {
		case "width-x":
			f.Value[1] = g.Value - p.Job.Part.Size[0]
		case "width-y":
			f.Value[1] = g.Value - p.Job.Part.Size[1]
		}
		out = append(out, f)
	}
	return out
}

// lastAt is the time of the newest reading of the round in hand, in hours of Unix time; ok is false before any.
func (v View) lastAt() (hours float64, ok bool) {
	if v.Round == nil || len(v.Round.Taken) == 0 {
		return 0, false
	}
	last := v.Round.Taken[0]
	for _, t := range v.Round.Taken {
		if t.Seq > last.Seq {
			last = t
		}
	}
	return float64(last.At.Unix()) / 3600, true
}

// hoursBetween are the hours since side 1 came out of the vise, by the record's times, or as the job gives them.
func (v View) hoursBetween() (float64, bool) {
	f, ok := v.Fact("part/hours")
	if !ok {
		return 0, false
	}
	if f.Value[1] == 0 {
		return f.Value[0], true
	}
	now, ok := v.lastAt()
	return math.Max(0, now-f.Value[0]), ok
}

// uOf is the standard uncertainty of a fact's first component.
func uOf(f Fact) float64 {
	if len(f.Cov) == 0 || len(f.Cov[0]) == 0 {
		return 0
	}
	return math.Sqrt(f.Cov[0][0])
}

package kit

import (
	"math"
	"strings"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// What a thing can be at all, by what is read and by the job. The ends are far out, so that a slip
// of a unit or a comma is named by its window first; what lies outside is none of the thing's own
// (common practice, from memory, but for the torques, which are computed).

// boundRow is one row: the first that fits counts. Of and Dir are compared by their beginnings.
type boundRow struct {
	unit        unit.Kind
	by, of, dir string
	bound       func(*fold.Plan) fold.Bound
}

// slipped is how far a slip of inch and mm, or of a comma, leads.
const slipped = 30

// manyThings is as many as a count of four digits says.
const manyThings = 9999

var boundRows = []boundRow{
	{unit.KTorque, "", "clamps", "torque", func(p *fold.Plan) fold.Bound { return torques(1, clampBolt(p)) }},
	{unit.KTorque, "", "screws", "torque", func(p *fold.Plan) fold.Bound { return torques(0, p.Setup.Screws.Thread) }},
	{unit.KTorque, "", "", "", func(*fold.Plan) fold.Bound { return torques(0, "") }},

	{unit.Scalar, "", "fixture-bolts", "loose", fixedBound(0, 99, "bolts that hold it are")},
	{unit.Scalar, "", "fixture-bolts", "", fixedBound(1, 99, "what stands fast is held by")},
	{unit.Scalar, "", "threads", "turns", screwTurns},
	{unit.Scalar, "", "spindle", "tool", fixedBound(0, manyThings, "a count here is")},
	{unit.Scalar, "", "stock", "days", fixedBound(0, manyThings, "a count here is")},
	{unit.Scalar, "", "program", "line", fixedBound(1, 5e6, "lines of a program are")},
	{unit.Scalar, "", "program", "", fixedBound(0, manyThings, "a count here is")},
	{unit.Scalar, "hygrometer", "", "", fixedBound(1, 99, "humidity is")},
	{unit.Scalar, "", "", "", fixedBound(0, 999, "a count here is")},

	{unit.KLength, "", "screws", "length", fixedBound(0.5, 500, "a screw is")},
	{unit.KLength, "", "screw-head", "height", heads},
	{unit.KLength, "", "", "thickness", func(p *fold.Plan) fold.Bound { return beside(p.Job.Part.Size[2], "this thickness is") }},
	{unit.KLength, "", "part", "width-x", func(p *fold.Plan) fold.Bound { return beside(p.Job.Part.Size[0], "this width is") }},
	{unit.KLength, "", "part", "width-y", func(p *fold.Plan) fold.Bound { return beside(p.Job.Part.Size[1], "this width is") }},
	{unit.KLength, "", "part", "wall", func(p *fold.Plan) fold.Bound {
		return fold.Bound{Low: 0.01, High: math.Max(p.Job.Part.Size[0], p.Job.Part.Size[1]), Why: "a wall of this part is"}
	}},
	{unit.KLength, "", "stock", "length", func(p *fold.Plan) fold.Bound { return beside(p.Job.Part.Size[0], "this stock is") }},
	{unit.KLength, "", "stock", "width", func(p *fold.Plan) fold.Bound { return beside(p.Job.Part.Size[1], "this stock is") }},
	{unit.KLength, "", "stock", "grip", func(p *fold.Plan) fold.Bound {
		return fold.Bound{Low: 0.01, High: slipped * p.Job.Part.Size[2], Why: "a grip here is"}
	}},
	{unit.KLength, "", "part", "mark", fixedBound(0, 500, "a mark is")},
	{unit.KLength, "", "part", "stock", fixedBound(0, 500, "what comes off is")},
	{unit.KLength, "", "stock", "bow", fixedBound(0, 100, "a bow is")},
	{unit.KLength, "gauge", "paper", "", fixedBound(0.005, 5, "paper is")},
	{unit.KLength, "gauge", "", "", fixedBound(0.1, 500, "a gauge is")},
	{unit.KLength, "", "ring", "size", fixedBound(1, 500, "a ring is")},
	{unit.KLength, "", "parallels", "height", fixedBound(1, 300, "parallels are")},
	{unit.KLength, "", "", "gap", fixedBound(0, 2000, "a gap is")},
	{unit.KLength, "scale", "", "", fixedBound(1, 2000, "an arm or a travel is")},
	{unit.KLength, "drill", "", "depth", fixedBound(-100, 500, "a depth is")},
	{unit.KLength, "dial", "", "", fixedBound(-100, 100, "a dial shows")},
	{unit.KLength, "", "", "", fixedBound(-5000, 5000, "a mill reaches from")},

	{unit.KTemperature, "", "", "", fixedBound(-20, 60, "where a person works it is")},
	{unit.KAngle, "", "test-thread", "", fixedBound(0, 20*math.Pi, "from snug to strip it is")},
	{unit.KAngle, "", "", "", fixedBound(-2*math.Pi, 2*math.Pi, "angles are")},
	{unit.KSlope, "", "", "", fixedBound(-1, 1, "a lean is")},
}

// Bounds is the engine's question.
func Bounds(p *fold.Plan, a fold.Ask) fold.Bound {
	of, k := a.What, a.Unit
	if k == unit.Count || a.Kind == fold.Count {
		k = unit.Scalar
	}
	for _, r := range boundRows {
		if r.unit == k && (r.by == "" || r.by == of.By) && strings.HasPrefix(of.Of, r.of) && strings.HasPrefix(of.Dir, r.dir) {
			return r.bound(p)
		}
	}
	return fold.Bound{Low: -1e6, High: 1e6, Why: "a count here is"}
}

func fixedBound(low, high float64, why string) func(*fold.Plan) fold.Bound {
	return func(*fold.Plan) fold.Bound { return fold.Bound{Low: low, High: high, Why: why} }
}

// beside is what a length beside one of the job can be, mm.
func beside(mm float64, why string) fold.Bound {
	return fold.Bound{Low: mm / slipped, High: slipped * mm, Why: why}
}

// clampBolt is the thread of the clamps' bolts; the first stands for all, as where it is asked.
func clampBolt(p *fold.Plan) string {
	if len(p.Setup.Clamps) == 0 {
		return ""
	}
	return p.Setup.Clamps[0].Bolt
}

// boltTorque is what the strongest usual bolt takes, N mm: the proof load of class 12.9 (ISO 898-1)
// at a torque coefficient of 0.2.
func boltTorque(t hold.Thread) float64 {
	c, err := hold.ClassNamed("12.9")
	if err != nil {
		return 500e3
	}
	load, _ := c.Proof(t)
	return float64(hold.TorqueFor(load, 0.2, t.D))
}

const takes = " takes"

// torques are those that a thread takes, N mm, from the least on.
func torques(least float64, thread string) fold.Bound {
	t, err := hold.ThreadNamed(thread)
	if err != nil {
		return fold.Bound{Low: least, High: 500e3, Why: "a bolt" + takes}
	}
	return fold.Bound{Low: least, High: boltTorque(t), Why: "the strongest " + t.Name + takes}
}

// screwTurns are those that the job's screw runs in: at most its own length, or all the thread there is.
func screwTurns(p *fold.Plan) fold.Bound {
	s, th := p.Setup.Screws, p.Job.Fixture.Threads
	b := fold.Bound{Low: 1, High: 200, Why: "a screw that goes in turns"}
	if t, err := hold.ThreadNamed(s.Thread); err == nil && t.P > 0 {
		b.High = math.Ceil(math.Max(s.Length, th.Relief+th.Depth)/float64(t.P)) + 1
	}
	return b
}

// heads are the heights of a head: from a thin one, sunk, to a tall one on washers.
func heads(p *fold.Plan) fold.Bound {
	t, err := hold.ThreadNamed(p.Setup.Screws.Thread)
	if err != nil {
		return fold.Bound{Low: 0.05, High: 100, Why: "a head is"}
	}
	d := float64(t.D)
	return fold.Bound{Low: 0.05 * d, High: math.Max(10*d, 2*p.Setup.Screws.Head), Why: "a head on " + t.Name + " is"}
}

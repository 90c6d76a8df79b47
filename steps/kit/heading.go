package kit

import (
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/pickup"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// Heading is the direction of the fixture as one round's readings say.
type Heading struct {
	pickup.Heading
	Form float64 // straightness, mm
	Full bool    // all readings, the bolts tight
	far  float64 // what the dial read at the far end, mm
	edge fit.Edge
}

// Bearing is what gives a fixture its direction: its edge under a dial, or its two
// bores or pins under whatever finds centres.
type Bearing interface {
	// ready asks what must be known first; nil when nothing, or when it is known from an earlier round.
	Ready(v fold.View) []fold.Ask
	// faulty is an error in what ready asked.
	Faulty(v fold.View) error
	// ends are the fewest readings, while tapping; run all of them, the bolts tight.
	Ends(v fold.View) []fold.Ask
	Run(v fold.View) []fold.Ask
	// read is what a round says: by all readings when all, else by the ends.
	Read(v fold.View, all bool) (Heading, bool)
	// check judges what a full run says of itself.
	Check(h Heading, limit fold.Limit, o *fold.Outcome)
	// Pivot is where the near end was read while tapping, mm, and the fields that say so.
	Pivot(v fold.View) (at float64, fields []string, ok bool)
	// Outlying is the reading of a full run that belongs least to the others, if one stands out: its field, where it is
	// read, and by how much.
	Outlying(v fold.View) (field, where string, off float64, ok bool)
	// Watch is what the person watches while tapping by move.
	Watch(h Heading, move float64) Watch
	Says() (act, read, caution string)
}

// Watch is what shows a tap while it is made: what to set before it, what follows its amount, and
// the needle, if there is one.
type Watch struct {
	Before, After string
	Needle        fold.Needle
}

// Doubt names the largest part of a heading's uncertainty, "" where it has one only.
func (h Heading) Doubt() string {
	name, most := "", 0.0
	for _, l := range []struct {
		name string
		u    float64
	}{{"the scatter of the readings", h.edge.UFit}, {"the dial's return", h.edge.UDrift}, {"the machine's own straightness", h.edge.UAxis},
		{"the jog test", h.edge.UScale}} {
		if l.u > most {
			name, most = l.name, l.u
		}
	}
	return name
}

// AlongY says that the line that gives the direction runs along Y.
func AlongY(p *fold.Plan) bool {
	if e, ok := EdgeOf(p); ok {
		return e.Side == "left" || e.Side == "right"
	}
	a := &p.Job.Fixture.AsMade
	if a.Stops != nil {
		return a.Stops.Long == "left" || a.Stops.Long == "right"
	}
	return a.Bore2 != nil && math.Abs(a.Bore2.At.Y) > math.Abs(a.Bore2.At.X)
}

// Ends names the pivot's end and the far end of the line for the person.
func Ends(p *fold.Plan) (low, high string) {
	low, high = "LEFT", "RIGHT"
	if AlongY(p) {
		low, high = "NEAR", "FAR"
	}
	if _, ok := EdgeOf(p); ok {
		return low, high
	}
	if a := &p.Job.Fixture.AsMade; a.Bore2 != nil && a.Bore2.At.X+a.Bore2.At.Y < 0 {
		low, high = high, low
	}
	return low, high
}

// TapWay is the physical direction of a move along + of the axis across the line.
func TapWay(p *fold.Plan, move float64) string {
	switch {
	case AlongY(p) && move > 0:
		return "RIGHT"
	case AlongY(p):
		return "LEFT"
	case move > 0:
		return "AWAY"
	}
	return "TOWARD YOU"
}

// Misread says that what a bearing asked first makes no sense, under that name of a check, and what is done then.
func Misread(b Bearing, v fold.View, id string, o *fold.Outcome) bool {
	err := b.Faulty(v)
	if err == nil {
		return false
	}
	o.Checks = append(o.Checks, judge.So(fold.Limit{ID: id, Why: "jog test: needle against a known move", Class: fold.Never}, false,
		"The jog test does not make sense: "+err.Error()+"."))
	o.Next = []fold.Act{{Do: "round", Words: "Set the stylus flatter, touching well, and repeat the jog test."}}
	return true
}

package hold

import (
	"math"

	"fliptrue/calc/unit"
)

// Entered is a hold-down that is not computed here (tape and glue, vacuum, toe clamps in
// the pocket sides): its capacity is entered, as tested on scrap.
type Entered struct {
	Kind         string
	Side, Up     unit.Force // tested, sideways and upward
	Area         float64    // mm² it was tested with; scaled to the part's by the caller's word, never here
	After        unit.Duration
	Source       string
	SlipSF, UpSF float64 // required; 0 takes 1.5 and 2
}

// Held is the safety of an entered hold-down. A part held by one tape or one pump has
// nothing left when it is lost; there is no second case.
type Held struct {
	Slip, Up float64
	Register bool
	Retained bool
	Ceiling  unit.Length
}

// Against judges the entered capacity against a cut.
func (n Entered) Against(c Cut) (Held, error) {
	if err := positive("tested force sideways", float64(n.Side), "tested force upward", float64(n.Up)); err != nil {
		return Held{}, err
	}
	if err := Exactly(float64(n.Side), n.Source).Valid("tested capacity of " + n.Kind); err != nil {
		return Held{}, err
	}
	l, err := c.Load()
	if err != nil {
		return Held{}, err
	}
	slip, up := n.SlipSF, n.UpSF
	if slip == 0 {
		slip = Usual.SlipAll
	}
	if up == 0 {
		up = Usual.PryAll
	}
	r := Held{
		Slip: safety(float64(n.Side), c.Corner*float64(l.Fh)),
		Up:   safety(float64(n.Up), c.Corner*math.Max(float64(l.Fa), 0)),
	}
	r.Register, r.Retained = r.Slip >= slip, r.Up >= up
	r.Ceiling = unit.Length(float64(c.Ap) * math.Min(r.Slip/slip, r.Up/up))
	return r, nil
}

package reuse

import (
	"fmt"
	"math"

	"fliptrue/calc/asmade"
	"fliptrue/calc/budget"
	"fliptrue/calc/given"
	"fliptrue/calc/growth"
)

// RestMost is the most that a fixture may have grown beyond heat: more is the card of another
// fixture, or a crack. Common practice.
const RestMost = 1e-3

// Scale is a fixture's size now over as made, by two bores, and what is known of the day.
type Scale struct {
	Q, U   float64       // spacing now over as made (frame.TwoBores), and its standard uncertainty
	Heat   growth.Growth // of the fixture over the machine's scales since it was made
	PerK   float64       // growth of it over the machine's scales for a kelvin; 0: not given
	UAlpha float64       // standard uncertainty of PerK
	Damp   asmade.Damp   // growth of its material by humidity; nil: takes up none
	Made   growth.Air    // the day it was made; Read false: its humidity is not known
}

// Split is a scale told apart.
type Split struct {
	Grown   float64 // q - 1
	Heat    float64
	Rest    float64 // Grown - Heat: humidity, and what is wrong
	U       float64 // standard uncertainty of Rest
	Guard   float64
	Verdict budget.Verdict // |Rest| against RestMost
	More    float64        // percent of humidity over the day it was made that Rest would take
	RH      float64        // percent there would have to be now
	Damp    bool           // More and RH are known
	Warmer  float64        // K over the thermometer that Rest would take; 0 where plate and machine grow alike
	WarmerG float64        // its guard
}

// Split takes the heat off and says what humidity the rest would be.
//
//	rest = q - 1 - heat, heat (α fixture - α machine) dT      damp(RH now) = damp(RH made) + rest
//
// If a hygrometer says otherwise the card is another's or the plate is bent. Humidity takes
// weeks: what it shows is between that of the day it was made and that of today. A q that
// is not above 0, or no uncertainty, is an error.
//
// Two bores give one number: a plate warmer than its thermometer by rest/(α fixture - α machine) reads as one that is damper.
// Nothing here tells the two apart; time does, for heat goes within hours.
func (s Scale) Split() (Split, error) {
	if err := given.Above("spacing over as made", s.Q, "its uncertainty", s.U); err != nil {
		return Split{}, err
	}
	r := budget.Combine(append([]budget.Line{budget.N("two bores", s.U, 0)}, s.Heat.Lines...))
	p := Split{Grown: s.Q - 1, Heat: s.Heat.Value, Rest: s.Q - 1 - s.Heat.Value, U: r.Std, Guard: r.Guard}
	p.Verdict = budget.Decide(math.Abs(p.Rest), p.Guard, budget.AtMost, RestMost)
	if math.Abs(s.PerK) > alike {
		p.Warmer = p.Rest / s.PerK
		p.WarmerG = math.Hypot(p.Guard, budget.OneSided*p.Warmer*s.UAlpha) / math.Abs(s.PerK)
	}
	if s.Damp != nil && s.Made.Read {
		if p.RH, p.Damp = s.Damp.RH(s.Damp.At(s.Made.RH) + p.Rest); p.Damp {
			p.More = p.RH - s.Made.RH
		}
	}
	return p, nil
}

// alike is a difference of expansions below which no temperature that a shop has shows, 1/K: 1 µm over 100 in 10 K.
const alike = 1e-6

// Between says whether the humidity that a split asks for lies between that of the day the fixture
// was made and today's, each by a hygrometer, with their half-widths and Rest's doubt: then
// it is moisture and comes back.
func (s Scale) Between(p Split, now growth.Air) (bool, error) {
	if !p.Damp || !now.Read {
		return false, fmt.Errorf("humidity on both days is wanted to tell moisture from a bent plate; read the hygrometer")
	}
	lo, hi := math.Min(s.Made.RH, now.RH)-growth.HygrometerHalf, math.Max(s.Made.RH, now.RH)+growth.HygrometerHalf
	at := s.Damp.At(s.Made.RH) + p.Rest
	return at >= s.Damp.At(lo)-p.Guard && at <= s.Damp.At(hi)+p.Guard, nil
}

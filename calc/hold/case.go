package hold

import "fliptrue/calc/unit"

// Case is a hold-down with the spread of everything that is not known exactly. Joint's
// Shear and Crush, Holding's Mu and Preload and the cut's Kc11 are taken from the ranges.
type Case struct {
	Joint   Joint
	Holding Holding
	Seat    Seat
	Shear   Range      // of the thread's material, MPa; not used with an insert
	Crush   Range      // pressure the part bears, MPa
	Mu      Range      // friction under the part
	Kc11    Range      // specific cutting force of the part, MPa
	Set     unit.Force // preload that the screws were set to, counted only below the working one; 0: the working one
}

// End is the hold-down at one end of the ranges.
type End struct {
	Shear, Crush, Mu, Kc11 float64
	Preload                Preload
	Ceiling                Ceiling
	Register               Register
	Retention              Retention
}

// Ends is the hold-down at both ends. The working preload comes from the low end of
// Shear and Crush, since that is the torque which is safe to set; it is the same in Low
// and High. Best is what a test could reveal at most: the favourable end with its own,
// higher torque. It decides nothing.
type Ends struct {
	Low, Nominal, High, Best End
	Register, Retention      Verdict
}

// Ends computes the case at both ends of its ranges, at the depth of the planned cut, slip
// and turning each by itself. These are upper bounds: Together is what to judge by.
func (c Case) Ends() (Ends, error) { return c.ends(nil) }

// Together computes the case at both ends of its ranges, at the depth of the planned cut,
// slip and turning taken together (Holding.Together).
func (c Case) Together() (Ends, error) {
	if len(c.Holding.Screws) == 0 {
		return c.ends(nil) // which says what to give
	}
	g := c.Holding.Grip() // of places only: the same at both ends
	return c.ends(&g)
}

func (c Case) ends(together *Grip) (Ends, error) {
	ranges := []struct {
		name string
		r    Range
	}{{"shear strength of the thread's material", c.Shear}, {"crushing pressure of the part", c.Crush},
		{"friction under the part", c.Mu}, {"specific cutting force of the part", c.Kc11}}
	if c.Joint.Insert != nil {
		ranges = ranges[1:]
	}
	for _, r := range ranges {
		if err := r.r.Valid(r.name); err != nil {
			return Ends{}, err
		}
	}
	low, err := c.end(c.Shear.Low, c.Crush.Low, c.Mu.Low, c.Kc11.High, 0, together)
	if err != nil {
		return Ends{}, err
	}
	set := low.Preload.F
	if c.Set > 0 && c.Set < set {
		set = c.Set
		if low, err = c.end(c.Shear.Low, c.Crush.Low, c.Mu.Low, c.Kc11.High, set, together); err != nil {
			return Ends{}, err
		}
	}
	e := Ends{Low: low}
	for _, o := range []struct {
		to                     *End
		shear, crush, mu, kc11 float64
		set                    unit.Force
	}{
		{&e.Nominal, c.Shear.Nominal, c.Crush.Nominal, c.Mu.Nominal, c.Kc11.Nominal, set},
		{&e.High, c.Shear.High, c.Crush.High, c.Mu.High, c.Kc11.Low, set},
		{&e.Best, c.Shear.High, c.Crush.High, c.Mu.High, c.Kc11.Low, 0},
	} {
		if *o.to, err = c.end(o.shear, o.crush, o.mu, o.kc11, o.set, together); err != nil {
			return Ends{}, err
		}
	}
	e.Register = Decide(e.Low.Register.Enough, e.High.Register.Enough)
	e.Retention = Decide(e.Low.Retention.Enough, e.High.Retention.Enough)
	return e, nil
}

// end computes one end; set 0 means the working preload of that end.
func (c Case) end(shear, crush, mu, kc11 float64, set unit.Force, together *Grip) (End, error) {
	j, h := c.Joint, c.Holding
	j.Shear, j.Crush = unit.Stress(shear), unit.Stress(crush)
	var p Preload
	var err error
	if set == 0 {
		p, err = j.Working()
	} else {
		p, err = j.At(set)
	}
	if err != nil {
		return End{}, err
	}
	h.Preload, h.Mu, h.Cut.Kc11, h.Factors = p, mu, kc11, j.Factors
	e := End{Shear: shear, Crush: crush, Mu: mu, Kc11: kc11, Preload: p}
	if together != nil {
		e.Ceiling, e.Register, err = h.together(*together)
	} else if e.Ceiling, err = h.Ceiling(); err == nil {
		e.Register, err = h.Register()
	}
	if err != nil {
		return End{}, err
	}
	e.Retention, err = h.Retention(c.Seat)
	return e, err
}

// Deepest is the deepest cut that holds at the low end: against slip, yaw and prying.
func (e Ends) Deepest() unit.Length {
	return min(e.Low.Ceiling.Least, e.Low.Retention.Ceiling)
}

// Advice is one way to hold more, in the order in which to try them.
type Advice int

const (
	MoreScrews  Advice = iota // more screws, or farther apart
	LighterCut                // lighter climb passes
	DownCut                   // a down-cut tool: its lift presses the part down
	IntoWalls                 // feed so that the force pushes into the pocket walls
	MoreRub                   // thin paper or tape under the seat; changes Z
	ProveThread               // strip a sacrificial thread: a tested number replaces the range
)

// String returns the advice as an act.
func (a Advice) String() string {
	return [...]string{
		"more screws, or farther apart",
		"lighter climb passes",
		"a down-cut tool: its lift presses the part down",
		"choose the passes so that the force pushes into the pocket walls",
		"thin paper or double-sided tape under the seat; it changes Z, so touch the floor again",
		"strip a sacrificial thread and crush a scrap: a tested number replaces the range",
	}[a]
}

// Advise lists what would let the planned depth hold, in order; empty when it holds.
// Testing stands first where the best case would carry the cut, and is left out where
// even that would not.
func (e Ends) Advise(h Holding) []Advice {
	if e.Register == Holds && e.Retention == Holds {
		return nil
	}
	var out []Advice
	if min(e.Best.Ceiling.Least, e.Best.Retention.Ceiling) >= h.Cut.Ap {
		out = append(out, ProveThread)
	}
	out = append(out, MoreScrews, LighterCut)
	if !h.Cut.Down && h.Cut.Helix > 0 {
		out = append(out, DownCut)
	}
	if e.Register != Holds {
		out = append(out, IntoWalls, MoreRub)
	}
	return out
}

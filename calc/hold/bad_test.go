package hold

import (
	"math"
	"testing"

	"fliptrue/calc/unit"
)

// Every question refuses what can't be: each case spoils one number of a good question.
func TestEveryQuestionRefusesNonsense(t *testing.T) {
	j := example(t)
	joint := func(edit func(*Joint)) func() error {
		return func() error { q := j; edit(&q); _, err := q.Working(); return err }
	}
	nan := math.NaN()
	strap := Strap{Bolt: 6, Torque: 2000, K: 0.2, Heel: 20, Tip: 30, Mu: 0.15}
	strapped := func(edit func(*Strap)) func() error {
		return func() error { q := strap; edit(&q); _, err := q.Force(); return err }
	}
	beam := Beam{40, 8, 2, 3200}
	blind := Blind{Drill: 1.6, Point: deg(118), Pitch: 0.4, Thread: 5, Base: 10}
	through := Through{Drill: 2.4, Point: deg(118), Relief: 1, ReliefDia: 4.5, ThreadMinor: 1.567}
	drill := Drilling{Dia: 2.4, Point: deg(118), Feed: 0.05, Kc11: 100, Mc: 0.2, Wear: 1.3}
	reach := Reach{Dia: 3, Flute: 10, Shank: 3, Free: 10}
	end := lid(t, 0.2)
	for name, f := range map[string]func() error{
		"joint without thread":     joint(func(j *Joint) { j.Thread = Thread{} }),
		"joint without engagement": joint(func(j *Joint) { j.Engaged = 0 }),
		"joint, NaN bearing":       joint(func(j *Joint) { j.Bearing = nan }),
		"joint, no crush":          joint(func(j *Joint) { j.Crush = 0 }),
		"joint, no class":          joint(func(j *Joint) { j.Class = Class{} }),
		"joint, no K":              joint(func(j *Joint) { j.K = 0 }),
		"joint, no factors":        joint(func(j *Joint) { j.Factors = Factors{} }),
		"joint, no shear":          joint(func(j *Joint) { j.Shear = 0 }),
		"joint, insert of nothing": joint(func(j *Joint) { j.Insert = &Insert{Source: "x"} }),
		"strap, no bolt":           strapped(func(s *Strap) { s.Bolt = 0 }),
		"strap, no heel":           strapped(func(s *Strap) { s.Heel = 0 }),
		"strap, negative tip":      strapped(func(s *Strap) { s.Tip = -1 }),
		"strap in a set": func() error {
			_, err := HoldDrill([]Strap{{}}, [][2]float64{{}}, DrillLoad{})
			return err
		},
		"wall without thickness": func() error { b := beam; b.Thick = 0; _, err := Squeezed(b, Fixed, 1, 1); return err },
		"wall without force":     func() error { _, err := Squeezed(beam, Fixed, 0, 1); return err },
		"plate without side":     func() error { _, err := Plate{Long: 2, Thick: 1, E: 1}.Pressed(1); return err },
		"plate, sides exchanged": func() error { _, err := Plate{Long: 2, Short: 3, Thick: 1, E: 1}.Pressed(1); return err },
		"blind, no drill":        func() error { b := blind; b.Drill = 0; _, err := b.Depth(); return err },
		"blind, flat point":      func() error { b := blind; b.Point = math.Pi; _, err := b.Depth(); return err },
		"blind, negative relief": func() error { b := blind; b.Relief = -1; _, err := b.Depth(); return err },
		"through, no relief":     func() error { h := through; h.Relief = 0; _, err := h.Depth(); return err },
		"through, flat point":    func() error { h := through; h.Point = 4; _, err := h.Depth(); return err },
		"pecks of nothing":       func() error { _, err := Pecks(1, 0, 1); return err },
		"drilling, no feed":      func() error { d := drill; d.Feed = 0; _, err := d.Load(); return err },
		"drilling, negative mc":  func() error { d := drill; d.Mc = -1; _, err := d.Load(); return err },
		"reach, no flute":        func() error { r := reach; r.Flute = 0; _, err := r.Stiffness(); return err },
		"reach, negative shank":  func() error { r := reach; r.Free = -1; _, err := r.Stiffness(); return err },
		"reach, core above 1":    func() error { r := reach; r.Core = 1.2; _, err := r.Stiffness(); return err },
		"ball at no depth":       func() error { _, err := BallDiameter(1, 0); return err },
		"scallop of nothing":     func() error { _, err := Scallop(1, 0); return err },
		"plunge, no depth":       func() error { _, err := Plunge{}.Faults(); return err },
		"plunge, negative neck": func() error {
			_, err := Plunge{Ap: 1, Depth: 1, Flute: 2, Dia: 1, Shank: 1, Stickout: 9, Neck: -1}.Faults()
			return err
		},
		"head without height":      func() error { _, _, err := HeadCut{}.Margin(); return err },
		"head, negative creep":     func() error { _, _, err := HeadCut{Head: 2, Creep: -1}.Margin(); return err },
		"ring without head":        func() error { _, err := BearingArea(0, 0); return err },
		"ring, negative hole":      func() error { _, err := BearingArea(3, -1); return err },
		"cut, upright helix":       func() error { c := aluminium(); c.Helix = 2; _, err := c.Load(); return err },
		"cut, exponent 1":          func() error { c := aluminium(); c.Mc = 1; _, err := c.Load(); return err },
		"cut, negative exponent":   func() error { c := aluminium(); c.Mc = -0.1; _, err := c.Load(); return err },
		"cut, no wear":             func() error { c := aluminium(); c.Wear = 0; _, err := c.Load(); return err },
		"tape without force":       func() error { _, err := Entered{Source: "x"}.Against(aluminium()); return err },
		"tape, bad cut":            func() error { _, err := Entered{Side: 1, Up: 1, Source: "x"}.Against(Cut{}); return err },
		"case, unknown shear":      func() error { c := end; c.Shear = Range{}; _, err := c.Ends(); return err },
		"case, ranges turned over": func() error { c := end; c.Mu = Range{3, 2, 1, "x", Given}; _, err := c.Ends(); return err },
		"case, no seat":            func() error { c := end; c.Seat = Seat{}; _, err := c.Ends(); return err },
		"case, no thread":          func() error { c := end; c.Joint.Thread = Thread{}; _, err := c.Ends(); return err },
		"case, no screws":          func() error { c := end; c.Holding.Screws = nil; _, err := c.Ends(); return err },
	} {
		if err := f(); err == nil {
			t.Errorf("%s: taken", name)
		} else if s := err.Error(); s[len(s)-1] == '.' || len(s) < 20 {
			t.Errorf("%s: %q", name, s)
		}
	}
}

func TestWords(t *testing.T) {
	for f := Unknown; f <= Given; f++ {
		if f.String() == "" {
			t.Errorf("flag %d has no words", f)
		}
	}
	for a := MoreScrews; a <= ProveThread; a++ {
		if a.String() == "" {
			t.Errorf("advice %d has no words", a)
		}
	}
	if Holds.String() != "holds" || Fails.String() != "fails" {
		t.Error("verdict words")
	}

}

// Advice for a cut that only a test could save begins with the test; for one that nothing
// saves it begins with screws; a down-cut tool is not advised twice.
func TestAdviceInOrder(t *testing.T) {
	for _, c := range []struct {
		ap    unit.Length
		down  bool
		first Advice
		n     int
	}{{1, false, ProveThread, 6}, {3, false, MoreScrews, 5}, {3, true, MoreScrews, 4}} {
		l := lid(t, c.ap)
		l.Holding.Cut.Down = c.down
		e, err := l.Ends()
		if err != nil {
			t.Fatal(err)
		}
		got := e.Advise(l.Holding)
		if len(got) != c.n || got[0] != c.first {
			t.Errorf("ap %g: %v", float64(c.ap), got)
		}
		for i := 2; i < len(got); i++ {
			if got[i] < got[i-1] {
				t.Errorf("ap %g: out of order %v", float64(c.ap), got)
			}
		}
	}
	e, _ := lid(t, 0.2).Ends()
	near(t, "lid, deepest that holds", float64(e.Deepest()), 0.361018987766035, exact)
}

func BenchmarkEnds(b *testing.B) {
	m, _ := ThreadNamed("M2")
	k, _ := ClassNamed("A2-70")
	c := Case{
		Joint: Joint{Thread: m, Engaged: 4.2, Bearing: 15.1, Class: k, K: 0.25, Factors: Usual},
		Shear: span(17.5, 35, 35, "x", Estimate), Crush: span(5, 10, 10, "x", Estimate), Mu: HoldingMu, Kc11: span(60, 100, 100, "x", Estimate),
		Seat: Seat{Corners: [][2]float64{{-48, -32}, {48, -32}, {48, 32}, {-48, 32}}, Height: 16},
		Holding: Holding{Screws: [][2]float64{{42, 26}, {42, -26}, {-42, 26}, {-42, -26}}, Forces: [][2]float64{{48, 32}},
			Cut: Cut{Dia: 3.175, Teeth: 2, Ae: 1, Ap: 0.2, Fz: 0.02, Helix: 0.5, Mc: 0.2, Wear: 1.3, Corner: 2}},
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := c.Ends(); err != nil {
			b.Fatal(err)
		}
	}
}

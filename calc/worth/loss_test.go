package worth

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// four groups of readings that find a few mistakes, one of them twice.
var few = []Group{
	{Name: "width", Minutes: 1, Catches: []Catch{{Mistake: "part-grown", From: 0.01}}},
	{Name: "touch", Minutes: 2, Adds: 4e-5, Catches: []Catch{{Mistake: "part-grown", From: 0.03}, {Mistake: "bumped-part", From: 0.02}}},
	{Name: "one look", Minutes: 0.1, Catches: []Catch{{Mistake: "part-rotated", From: 180, Look: "seat"}}},
	{Name: "two looks", Minutes: 0.2, Catches: []Catch{{Mistake: "part-rotated", From: 180, Look: "seat"}, {Mistake: "wrong-side-up", From: 1, Look: "seat"}}},
}

var usual = Setting{Allowance: 0.05, Thickness: 0.1, Worth: 600, U: 0.009}

// A setup is played so often that its mean is known: mistakes are drawn with their sizes, each look finds them by chance, and what is
// left is cut with an error drawn too. The sum over quantiles has to come out there.
func TestLossAsPlayed(t *testing.T) {
	for _, in := range [][]bool{{false, false, false, false}, {true, true, true, true}, {true, false, true, false}, {false, true, false, true}} {
		m, err := NewModel(usual, few)
		if err != nil {
			t.Fatal(err)
		}
		want := m.Loss(in)
		r := rand.New(rand.NewPCG(7, 1))
		sum, square := 0.0, 0.0
		const n = 150000
		for range n {
			x := played(r, m, in)
			sum, square = sum+x, square+x*x
		}
		got := sum / n
		if off := math.Abs(got - want.Risk()); off > 4*math.Sqrt((square/n-got*got)/n) {
			t.Errorf("%v: played %.3f minutes, reckoned %.3f", in, got, want.Risk())
		}
	}
}

// played is what one setup loses: each mistake alone against the same part without any, as the sum has it.
func played(r *rand.Rand, m *Model, in []bool) (lost float64) {
	u := m.Std(in)
	over := func(e, s, limit, n float64) float64 {
		switch x := math.Abs(e + s*r.NormFloat64()); {
		case x > n*limit:
			return reworked + scrapped
		case x > limit:
			return reworked
		}
		return 0
	}
	lost = over(0, u, m.s.Allowance, wayOver) * m.s.Worth
	for _, x := range m.made {
		if r.Float64() >= x.p {
			continue
		}
		size := x.Median * math.Exp(x.Sigma*r.NormFloat64())
		found := false
		sure := map[string]float64{}
		for i, g := range m.groups {
			for _, c := range g.Catches {
				switch {
				case !in[i] || c.Mistake != x.Name:
				case c.Look != "":
					sure[c.Look] = max(sure[c.Look], c.catch(size))
				default:
					found = found || r.Float64() < c.catch(size)
				}
			}
		}
		for _, p := range sure {
			found = found || r.Float64() < p
		}
		if found {
			continue
		}
		e := x.Lever * size
		switch {
		case x.Of == Register:
			share := over(e, u, m.s.Allowance, wayOver) - over(0, u, m.s.Allowance, wayOver)
			lost += share * m.s.Worth
		case x.Of == Thickness && e > tooDeep:
			lost += m.s.Worth
		case x.Of == Thickness:
			lost += (over(e, uThick, m.s.Thickness, tooThick) - over(0, uThick, m.s.Thickness, tooThick)) * m.s.Worth
		case size >= x.From:
			lost += x.Share * m.s.Worth
		}
		if x.harm(size, m.s, u) > 0 && x.Crash > 0 { // minutes of the machine go by the size, not by the part
			free := m.s
			free.Worth = 1e-12
			lost += x.harm(size, free, u)
		}
	}
	return lost
}

// By hand: at From a number is found in 0.99 of 95 of 100, at two thirds of it in 0.99 of about half. What a group does not
// read adds to the variance; a mistake of no size costs nothing; sizes lie even about the median.
func TestLossByHand(t *testing.T) {
	near := func(what string, got, want, tol float64) {
		t.Helper()
		if !(math.Abs(got-want) <= tol) {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	c := Catch{Mistake: "bumped-part", From: 0.03}
	near("at From", c.catch(0.03), 0.99*0.95, 1e-4)
	near("at two thirds", c.catch(0.02), 0.99*0.491, 1e-3) // the normal table at 1.6449 - 1/0.6 = -0.0218
	near("an answer at twice", Catch{From: 1, Look: "seat"}.catch(2), 0.90, 1e-4)
	near("an echo at twice", Catch{From: 1, Echo: true}.catch(2), 0.97, 1e-4)
	m, err := NewModel(usual, few)
	if err != nil {
		t.Fatal(err)
	}
	near("register without the touch", m.Std(make([]bool, 4)), 0.011, 1e-12) // 0.009² + 4e-5
	near("and with it", m.Std([]bool{false, true, false, false}), 0.009, 1e-12)
	tight := usual // with nothing wrong some are out of it all the same
	tight.Thickness = 0.015
	for _, k := range Mistakes() {
		if k.Of != Outright {
			near(k.Name+" of no size", k.harm(0, tight, 0.02), 0, 1e-12)
		}
		all := k.sizes()
		for i, s := range all {
			near(k.Name+" about its median", s*all[len(all)-1-i]/k.Median/k.Median, 1, 1e-9)
		}
	}
}

// More read is never more risk; a dearer part never less; a mistake that nothing finds costs the same whatever is read.
func TestMoreReadLessRisk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Setting{Allowance: rapid.Float64Range(0.02, 0.3).Draw(t, "allowance"), Thickness: 0.1, Worth: rapid.Float64Range(10, 5000).Draw(t, "worth"),
			U: rapid.Float64Range(0.003, 0.02).Draw(t, "u"), Strapped: rapid.Bool().Draw(t, "strapped"), Proven: rapid.Bool().Draw(t, "proven")}
		m, err := NewModel(s, few)
		if err != nil {
			t.Fatal(err)
		}
		in := make([]bool, len(few))
		for i := range in {
			in[i] = rapid.Bool().Draw(t, "in")
		}
		before := m.Loss(in)
		for i := range in {
			if m.Saves(in, i) < -1e-9 && few[i].Adds == 0 {
				t.Fatalf("%s costs %g", few[i].Name, -m.Saves(in, i))
			}
		}
		dear := s
		dear.Worth *= 2
		d, err := NewModel(dear, few)
		if err != nil {
			t.Fatal(err)
		}
		if after := d.Loss(in); after.Risk() < before.Risk()-1e-9 || after.By["tapped-after-bore"] < before.By["tapped-after-bore"] {
			t.Fatalf("twice the worth: %g after %g", after.Risk(), before.Risk())
		}
	})
}

// The search finds what trying every set finds; what is kept stays.
func TestBestOfAll(t *testing.T) {
	for _, w := range []float64{10, 180, 600, 3000} {
		s := usual
		s.Worth = w
		gs := append([]Group{{Name: "kept", Minutes: 5, Kept: "gate"}}, few...)
		m, err := NewModel(s, gs)
		if err != nil {
			t.Fatal(err)
		}
		least := math.Inf(1)
		for k := range 1 << len(few) {
			in := []bool{true}
			for i := range few {
				in = append(in, k>>i&1 == 1)
			}
			least = min(least, m.Loss(in).Total())
		}
		if set, best := m.Best(); math.Abs(best.Total()-least) > 1e-9 || !set[0] {
			t.Errorf("worth %g: %v costs %.4f, the least of all is %.4f", w, set, best.Total(), least)
		}
	}
}

func TestModelRefuses(t *testing.T) {
	for _, c := range []struct {
		s Setting
		g []Group
	}{{Setting{}, nil}, {usual, []Group{{Catches: []Catch{{Mistake: "none such", From: 1}}}}}, {usual, []Group{{Catches: []Catch{{Mistake: "part-hot"}}}}}} {
		if _, err := NewModel(c.s, c.g); err == nil {
			t.Errorf("%+v %+v are taken", c.s, c.g)
		}
	}
	for _, m := range Mistakes() {
		if m.Source == "" || !(m.P > 0 && m.P < 1) || !(m.Median > 0) || m.Of != Outright && m.Lever == 0 || m.Of == Outright && m.Share+m.Crash == 0 {
			t.Errorf("%+v", m)
		}
	}
}

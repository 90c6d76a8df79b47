package rescue_test

import (
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// limits are what a cut is held against in the step that holds the part again, and its notes.
func limits(o fold.Outcome) (retention, register fold.Check, notes string) {
	for _, c := range o.Checks {
		switch c.Limit.ID {
		case "hold.retention":
			retention = c
		case "hold.register":
			register = c
		}
	}
	return retention, register, strings.Join(o.Notes, " ")
}

// Three screws of the lid hold 0.287 and 0.097. Straps on it, at the torque that is read, make it more; as many as the job draws, or
// they do not count. Without a torque nothing of them counts.
func TestStrapsCountOnTopOfScrews(t *testing.T) {
	p := lidPlan(t, nil)
	lost := []fold.Known{facts.Lost.Is(facts.LostFact{Screws: 1 << 2}), {ID: "screws", Value: []float64{4}}}
	hold := func(way string, more ...[2]string) fold.Outcome {
		in := append([][2]string{{"way", way}, {"soft", "0"}, {"depth", "0.2"}, {"head", "1.9"}}, more...)
		return judged(t, p, "hold", lost, in...)
	}
	bare, slip, _ := limits(hold("wedges, or the cavity filled"))
	near(t, "three screws, leaves its seat above", bare.Limit.Max, 0.287, 5e-4)
	near(t, "three screws, slips above", slip.Limit.Max, 0.097, 5e-4)
	const straps = "straps on finished faces"
	seat, slips, notes := limits(hold(straps, [2]string{"straps", "2"}, [2]string{"strap-torque", "1Nm"}))
	if len(p.Setup.Clamps) != 2 || seat.Limit.Max < 2*bare.Limit.Max || slips.Limit.Max <= slip.Limit.Max || strings.Contains(notes, "Not counted") {
		t.Errorf("two straps at 1 N m: %+v, %+v, %q", seat, slips, notes)
	}
	if seat.Limit.Class != fold.Never || !strings.Contains(seat.Words, "3 screws and") {
		t.Errorf("%+v", seat)
	}
	weak, _, _ := limits(hold(straps, [2]string{"straps", "2"}, [2]string{"strap-torque", "0.02Nm"}))
	if weak.Limit.Max < bare.Limit.Max || weak.Limit.Max > seat.Limit.Max {
		t.Errorf("straps just touching: %g, bare %g, tight %g", weak.Limit.Max, bare.Limit.Max, seat.Limit.Max)
	}
	for _, in := range [][][2]string{{{"straps", "1"}, {"strap-torque", "1Nm"}}, {{"straps", "2"}}} {
		if c, _, notes := limits(hold(straps, in...)); c.Limit.Max != bare.Limit.Max || !strings.Contains(notes, "Not counted") {
			t.Errorf("%v: %+v, %q", in, c, notes)
		}
	}
}

// A film counts by its test, alone: 60 N on 625 mm² over 84 x 52 of 96 x 64 bear a third of 60·84·52/625·0.401 sideways and a tenth of
// 60·84·52/625 upward (calc/stick). A test that is short, cooler than the film will be, or missing counts nothing; class never.
func TestFilmCountsByItsTest(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) { j.Machine.Probe.Repeat = 0.001 })
	lost := []fold.Known{facts.Lost.Is(facts.LostFact{Screws: 1<<0 | 1<<1 | 1<<2 | 1<<3}), {ID: "screws", Value: []float64{4}}}
	film := func(load, minutes, at, hot string) fold.Check {
		in := [][2]string{{"way", "tape or glue at the skirts"}, {"soft", "0"}, {"depth", "0.2"}, {"head", "1.9"}}
		if load != "" {
			in = append(in, [2]string{"test-load", load}, [2]string{"test-x", "25"}, [2]string{"test-y", "25"}, [2]string{"test-minutes", minutes},
				[2]string{"test-at", at}, [2]string{"film-x", "84"}, [2]string{"film-y", "52"}, [2]string{"film-hot", hot})
		}
		c, _, _ := limits(judged(t, p, "hold", lost, in...))
		return c
	}
	good := film("60N", "10", "30C", "28C")
	if good.Verdict != fold.Pass || good.Limit.Class != fold.Never || good.Limit.Max < 0.5 {
		t.Errorf("all screws gone, film by its test: %+v", good)
	}
	near(t, "twice the load, twice the cut", film("120N", "10", "30C", "28C").Limit.Max, 2*good.Limit.Max, 1e-9)
	for name, c := range map[string]fold.Check{"short": film("60N", "2", "30C", "28C"), "cooler": film("60N", "10", "22C", "28C"), "none": film("", "", "", "")} {
		if c.Verdict == fold.Pass || c.Limit.Class != fold.Never {
			t.Errorf("%s: %+v", name, c)
		}
	}
}

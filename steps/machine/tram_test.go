package machine_test

import (
	"fmt"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/machine"
	"fliptrue/steps/trial"
)

func tram(t testing.TB, edit func(*jobs.Job)) *fold.Plan {
	t.Helper()
	j := trial.Lid(t)
	j.Setups = append(j.Setups, jobs.Setup{Name: "head", Kind: kit.TramKind})
	return trial.Plan(t, j, "head", edit)
}

type typed = trial.Typed

func view(p *fold.Plan, id fold.StepID, values ...typed) fold.View {
	return fold.Trial(p, id, trial.When, kit.GivenFacts(p), values...)
}

// swept is a sweep of radius 100 with a tilt along X, mm over the diameter; the needle moved so far for a jog of 0.2.
func swept(jog string, over float64, more ...typed) []typed {
	half := over / 2
	r := func(v float64) string { return fmt.Sprintf("%.4f", v) }
	return append([]typed{{"radius", "100"}, {"jog0", "0"}, {"jog1", jog}, {"r0", r(half)}, {"r90", "0"}, {"r180", r(-half)}, {"r270", "0"}, {"close", r(half)}}, more...)
}

func spec(t testing.TB, p *fold.Plan, id fold.StepID) *fold.Spec {
	t.Helper()
	sp, ok := p.Spec(id)
	if !ok {
		t.Fatalf("no step %s", id)
	}
	return sp
}

// A jog that slipped by half doubles what the dial seems to show for it and halved every tilt: 0.120
// over 1000 (limit 0.083) passed as 0.060.
func TestSlippedJogIsNoScale(t *testing.T) {
	p := tram(t, nil)
	sp := spec(t, p, "tram")
	for _, c := range []struct {
		jog, lever string
		asked      bool
		refused    bool
	}{{"0.200", "", false, false}, {"0.400", "0", true, true}, {"0.400", "60", true, false}, {"0.400", "20", true, true}, {"0.231", "30", true, false}} {
		in := swept(c.jog, 0.024)
		if c.lever != "" {
			in = append(in, typed{"lever", c.lever})
		}
		v := view(p, "tram", in...)
		asked := false
		for _, a := range sp.Asks(v) {
			asked = asked || a.Field == "lever"
		}
		if asked != c.asked {
			t.Errorf("jog %s: the angle of the stylus is asked: %v", c.jog, asked)
		}
		o := sp.Judge(v)
		if refused := len(o.Facts) == 0; refused != c.refused {
			t.Errorf("jog %s at %s deg: %+v", c.jog, c.lever, o.Checks)
		}
	}
	// What the needle may read after the jog goes by the reading before it, as at an edge.
	for _, a := range sp.Asks(view(p, "tram", typed{"radius", "100"}, typed{"jog0", "0.350"})) {
		if a.Field == "jog1" && (a.Window.Want != 0.350 || a.Window.Least == 0) {
			t.Errorf("after the jog: %+v", a.Window)
		}
	}
}

// 15 times the allowance passed here, and went on the card.
func TestTravelHasLimits(t *testing.T) {
	p := tram(t, nil)
	half := 0.5 * float64(p.Job.Allowance)
	h, w := p.Job.Part.Size[2], p.Job.Part.Size[1]
	col, sq := spec(t, p, "column"), spec(t, p, "test-square")
	for _, share := range []float64{0.5, 30} { // of the limit
		d := fmt.Sprintf("%.4f", -share*half/h*100)
		o := col.Judge(view(p, "column", typed{"way", machine.Known[0]}, typed{"height", "100"}, typed{"dx", d}, typed{"dy", "0"}))
		if pass := fold.Worst(o.Checks) == fold.Pass; pass != (share < 1) || len(o.Checks) != 2 {
			t.Errorf("column, %.1f of the limit: %+v", share, o.Checks)
		}
		if share > 1 && (len(o.Next) == 0 || !strings.Contains(o.Learned, "to the LEFT")) {
			t.Errorf("column: %s %+v", o.Learned, o.Next)
		}
		far := fmt.Sprintf("%.4f", -share*half/w*2*100)
		o = sq.Judge(view(p, "test-square", typed{"way", machine.Known[0]}, typed{"dy", "100"}, typed{"near", "0"}, typed{"far", far}))
		if pass := fold.Worst(o.Checks) == fold.Pass; pass != (share < 1) || len(o.Checks) != 1 {
			t.Errorf("square, %.1f of the limit: %+v", share, o.Checks)
		}
	}
}

func TestWhatGotWorseIsSaid(t *testing.T) {
	p := tram(t, nil)
	sp := spec(t, p, "tram")
	before := view(p, "tram", swept("0.200", 0.040)...)
	for over, want := range map[float64]string{0.060: "tram-worse", 0.020: "", 0.041: ""} {
		now := view(p, "tram", swept("0.200", over)...)
		o := sp.Judge(now.In(now.Round, []*fold.Round{before.Round}))
		if o.Named != want || (want != "") != strings.Contains(strings.Join(o.Notes, " "), "Along X it got worse, from 0.") {
			t.Errorf("from 0.040 to %.3f: named %q, %v", over, o.Named, o.Notes)
		}
	}
}

// Every signed slope says which way is plus, and an inch page has no millimetre.
func TestTramWords(t *testing.T) {
	p := tram(t, func(j *jobs.Job) { j.Unit = unit.Imperial })
	o := spec(t, p, "tram").Judge(view(p, "tram", typed{"radius", "4"}, typed{"jog0", "0"}, typed{"jog1", "0.0050"}, typed{"r0", "0"}, typed{"r90", "0.0010"}, typed{"r180", "0"}, typed{"r270", "-0.0010"}, typed{"close", "0"}))
	said := o.Learned + strings.Join(o.Notes, " ")
	for _, a := range o.Next {
		said += " " + a.Words
	}
	for _, r := range o.Lines {
		if r.Signed && !strings.Contains(r.Label, "is +") {
			t.Errorf("%q does not say which way is plus", r.Label)
		}
	}
	if strings.Contains(said, " mm") || !strings.Contains(said, "AWAY") {
		t.Errorf("%s", said)
	}
}

package main

import (
	"math"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

// fixtureCard is the name of the fixture's card in the built-in job.
func fixtureCard(t *testing.T, texts map[string]string) string {
	t.Helper()
	for name := range texts {
		if strings.HasSuffix(name, ".fixture.yaml") {
			return name
		}
	}
	t.Fatal("no card")
	return ""
}

// A fixture that was made stands on its card once it is released, with covariance, with signs in words, and with what stood
// there before; nothing of it before that, and nothing twice. The second side then begins with that card.
func TestMakingWritesTheCard(t *testing.T) {
	e, disk, _ := shop(t)
	texts, err := builtin.Texts("fixture")
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range texts {
		disk.Put(name, text)
	}
	path := fixtureCard(t, texts)
	const seed = 5
	drawn := disk.Text(path)
	s, err := began(e, openOptions{job: builtin.JobFile, setup: "plate"})
	if err != nil {
		t.Fatal(err)
	}
	w := bench.NewWorld(s.plan, seed, bench.Usual(s.plan))
	k := bench.NewWalk(s.plan, w, nil)
	if _, err := k.Until(func(st *fold.State) bool { return st.Ready }); err != nil {
		t.Fatal(err)
	}
	for _, ev := range k.Events[1:] {
		ev.At = e.now()
		keep(t, s, ev)
	}
	if disk.Text(path) != drawn {
		t.Fatalf("written before it was released:\n%s", disk.Text(path))
	}
	n := len(k.Events)
	if _, err := k.Until(nil); err != nil || !k.State().Released {
		t.Fatal(err, k.Words)
	}
	for _, ev := range k.Events[n:] {
		ev.At = e.now()
		keep(t, s, ev)
	}
	s.record.Close()
	f, faults := jobs.ReadFixture(disk, path)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	t.Log(disk.Text(path))
	truth, _ := w.MadeFixture()
	m := f.AsMade
	v := [2]float64{m.PartZero.X - f.Pocket.Clearance, m.PartZero.Y + f.Pocket.Clearance} // against LEFT and AWAY
	for i, d := range []float64{v[0] - truth.Zero.X, v[1] - truth.Zero.Y} {
		if math.Abs(d) > 3*m.ZeroU[i] || m.ZeroU[i] <= 0 {
			t.Errorf("part zero off by %.4f, said within %.4f", d, m.ZeroU[i])
		}
	}
	if math.Abs(m.SmallBy-truth.Small) > 0.005 || m.ZeroR >= 0 || m.Revision != 1 || m.Humidity == 0 || len(m.Pads) != 3 || f.Uses != 0 || f.Threads.Cycles != 4 || f.Threads.StripTorque == 0 {
		t.Errorf("%+v %+v", m, f)
	}
	kept := ""
	for _, h := range f.History {
		kept += h.Key + " " + h.Values["was part-zero.0"] + " " + h.Values["reason"] + "\n"
	}
	if !strings.Contains(kept, "#") || !strings.Contains(kept, "mm made, and measured") {
		t.Errorf("history %s", kept)
	}
	for _, sign := range []string{"part-zero: X+ right", "small-by: + every wall"} {
		if !strings.Contains(disk.Text(path), sign) {
			t.Errorf("the card does not say %q", sign)
		}
	}
	written := disk.Text(path)
	if s, err = began(e, openOptions{job: builtin.JobFile, setup: "plate"}); err != nil {
		t.Fatal(err)
	}
	if s.record.Close(); disk.Text(path) != written {
		t.Error("written again")
	}
	if got := walkOn(t, e, "side2", seed); got != "side2" {
		t.Errorf("then comes %s", got)
	}
}

package bench

import (
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// backTo is the step that a verdict page sends the person back to, "" for none.
func backTo(st *fold.State) fold.StepID {
	if !st.Cursor.Decide {
		return ""
	}
	ss, _ := st.Step(st.Cursor.Step)
	for _, a := range ss.Outcome.Next {
		if a.Do == "reopen" {
			return fold.StepID(a.Of)
		}
	}
	return ""
}

// arrives walks until a verdict page sends the person back, goes there, puts right what was
// wrong and walks on: the step gone back to is read again, and so is the one that sent there.
// It says from where to where that was, "" where nothing sent back.
func arrives(t *testing.T, name string, k *Walk, mend func()) (from, to fold.StepID) {
	t.Helper()
	sent, err := k.Until(func(st *fold.State) bool { return backTo(st) != "" })
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if !sent {
		return "", ""
	}
	st := k.State()
	from, to = st.Cursor.Step, backTo(st)
	es, err := st.Reopen(to)
	if err != nil {
		t.Errorf("%s: the page of %s sends back to %s: %v", name, from, to, err)
		return from, to
	}
	if err := k.Add(es...); err != nil {
		t.Fatal(err)
	}
	mend()
	at := st.N
	if _, err := k.Until(nil); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	st = k.State()
	if k.HeldAt != nil {
		t.Errorf("%s: from %s back to %s, then held at %s: %s", name, from, to, *k.HeldAt, k.Words)
		return from, to
	}
	for _, id := range []fold.StepID{from, to} {
		ss, _ := st.Step(id)
		if r := ss.Rounds[len(ss.Rounds)-1]; r.First <= fold.Seq(at) {
			t.Errorf("%s: from %s back to %s, and %s was not read again before the release", name, from, to, id)
		}
	}
	return from, to
}

// A wall that sprang sent the person back to grip the stock, which brought nothing: the page
// stood there again at once with the reading of before.
func TestEveryBackToOfTheFirstSideArrives(t *testing.T) {
	for _, c := range []struct {
		name     string
		edit     func(*jobs.Setup)
		wrong    func(*raw)
		right    func(*raw)
		from, to fold.StepID
	}{
		{"sprung", nil, func(r *raw) { r.spring = 0.05 }, func(r *raw) { r.spring = 0 }, "open", "cut"},
		{"out of square", nil, func(r *raw) { r.lean = 4e-3 }, func(r *raw) { r.lean = 0 }, "corner", "grip"},
		{"wedge", nil, func(r *raw) { r.top.tx = 2e-3 }, func(r *raw) { r.top.tx = 0 }, "top", "grip"},
		{"into the jaw", func(s *jobs.Setup) { s.Cut.Lowest = -10.8 }, func(r *raw) { r.jawTop += 0.2 }, func(r *raw) { r.jawTop -= 0.6 }, "jaws", "grip"},
	} {
		p := side1(t, c.edit)
		tool := p.Job.Tools[3]
		tool.Flute = 14 // deep enough for the lowest cut of the last
		p.Job.Tools[3] = tool
		w := NewWorld(p, 3, Usual(p))
		c.wrong(w.raw)
		from, to := arrives(t, c.name, NewWalk(p, w, nil), func() { c.right(w.raw) })
		if from != c.from || to != c.to {
			t.Errorf("%s: from %q back to %q, want from %s to %s", c.name, from, to, c.from, c.to)
		}
	}
}

// After a spring pass Z0 is the faced top, not a skin under it.
func TestSpringPassKeepsZ0(t *testing.T) {
	p := side1(t, nil)
	w := NewWorld(p, 3, Usual(p))
	w.raw.spring = 0.05
	k := NewWalk(p, w, nil)
	arrives(t, "sprung", k, func() { w.raw.spring = 0 })
	truth, _ := w.SideOne()
	of, ok := k.State().Fact("offset")
	if !ok || of.Value[2]-truth.Z0 > 0.03 || of.Value[2]-truth.Z0 < -0.03 {
		t.Errorf("Z0 is off by %.3f; the skin is %.3f", of.Value[2]-truth.Z0, p.Job.Part.Skin[0])
	}
}

// The same for the second side, with each mistake that a verdict page answers by sending back.
func TestEveryBackToOfTheSecondSideArrives(t *testing.T) {
	p := lid(t, func(j *jobs.Job) { j.Fixture.Material = "aluminium-6061-t6" }) // no damp moves it: one bore is read
	met := map[[2]fold.StepID]int{}
	for _, m := range Mistakes() {
		w := NewWorld(p, 5, Usual(p))
		if err := w.Make(m.Name, 0); err != nil {
			t.Fatal(err)
		}
		from, to := arrives(t, m.Name, NewWalk(p, w, nil), func() {
			for _, h := range w.mistakes {
				if h.begun && !h.over {
					w.end(h)
				}
			}
		})
		met[[2]fold.StepID{from, to}]++
	}
	t.Log(met)
	if len(met) < 2 {
		t.Errorf("only %v sent back: the mistakes no longer make the pages", met)
	}
}

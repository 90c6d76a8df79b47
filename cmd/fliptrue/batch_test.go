package main

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

// cutPart walks the next part of a batch at the world that stands there, and leaves its record. between is done before it.
func cutPart(t *testing.T, e *env, w *bench.World, part int, before *bench.Walk, now time.Time, between func(*bench.Walk)) *bench.Walk {
	t.Helper()
	j, err := e.readJob(builtin.JobFile)
	if err != nil {
		t.Fatal(err)
	}
	p, err := e.plan(j, j.Setups[0].Name)
	if err != nil {
		t.Fatal(err)
	}
	cards := jobs.Flatten(j)
	if before != nil {
		taken, err := before.State().Taken()
		if err != nil {
			t.Fatal(err)
		}
		maps.Copy(cards, taken)
	}
	k := bench.NewWalk(p, w, cards)
	k.Now = func(n int) time.Time { return now.Add(time.Duration(n) * 20 * time.Second) }
	k.Events[0].At = now
	if between != nil {
		between(k)
	}
	if _, err := k.Until(nil); err != nil || !k.State().Released {
		t.Fatalf("part %d: %v, held %v: %s", part, err, k.HeldAt, k.Words)
	}
	r, _, _, err := jobs.OpenRecord(e.disk, jobs.RecordPath(builtin.JobFile, part), "test")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	if err := r.Append(k.Events...); err != nil {
		t.Fatal(err)
	}
	return k
}

// Three parts on one mounting, the fixture knocked before the third: the second is suspect. After a night the mounting is read again
// before the next goes in, and is good if it stood still.
func TestBatch(t *testing.T) {
	e, _, _ := shop(t)
	j, err := e.readJob(builtin.JobFile)
	if err != nil {
		t.Fatal(err)
	}
	p, err := steps.NewPlan(j, j.Setups[0].Name, nil)
	if err != nil {
		t.Fatal(err)
	}
	w := bench.NewWorld(p, 5, bench.Usual(p))
	at := time.Date(2026, 3, 1, 8, 0, 0, 0, time.UTC)
	one := cutPart(t, e, w, 1, nil, at, nil)
	two := cutPart(t, e, w, 2, one, at.Add(2*time.Hour), nil)
	out, err := e.batchOf(j, builtin.JobFile)
	if err != nil || len(out.Parts) != 2 || out.Next != 3 || len(out.Suspect) > 0 || !out.Parts[1].Taken || out.Parts[1].Drift == nil || out.Parts[1].High == nil {
		t.Fatalf("%+v %v", out, err)
	}
	if !slices.ContainsFunc(out.Due, func(d string) bool { return strings.HasPrefix(d, "finisher") }) {
		t.Errorf("the third part reads the finisher: %q", out.Due)
	}
	// A night, nothing moved: more is read than at once, less than from the bare table.
	left := func(k *bench.Walk) {
		if err := k.Declare("left-alone", ""); err != nil {
			t.Fatal(err)
		}
	}
	four := cutPart(t, e, w, 3, two, at.Add(24*time.Hour), left)
	if n := len(four.Events); n <= len(two.Events) || n >= len(one.Events) {
		t.Errorf("%d events after a night, %d at once, %d from the bare table", n, len(two.Events), len(one.Events))
	}
	cutPart(t, e, w, 4, four, at.Add(26*time.Hour), func(*bench.Walk) {
		for _, a := range []fold.Act{{Do: "remove", Of: "part"}, {Do: "tap", Of: "fixture", Dir: "away", Amount: 0.05}} {
			if err := w.Do(a); err != nil {
				t.Fatal(err)
			}
		}
	})
	if out, err = e.batchOf(j, builtin.JobFile); err != nil || !out.Parts[3].Moved || !slices.Equal(out.Suspect, []int{3}) {
		t.Errorf("knocked before part 4: %+v %v", out, err)
	}
	if text := out.text(j.Unit); !strings.Contains(text, "SUSPECT: [3]") {
		t.Error(text)
	}
}

// A pause for the day stands in the record of the next part: left alone.
func TestPauseForTheDay(t *testing.T) {
	for _, c := range []struct {
		hours float64
		alone bool
	}{{0.5, false}, {14, true}} {
		e, _, _ := shop(t)
		if code, err := practice(e, practiceOptions{holdDown: "T", seed: 1, auto: true, out: "."}); code != exitOK || err != nil {
			t.Fatalf("exit %d, error %v", code, err)
		}
		es, _, _ := jobs.ReadRecord(e.disk, jobs.RecordPath(builtin.JobFile, 1))
		e.now = func() time.Time {
			return es[len(es)-1].At.Add(time.Duration(c.hours * float64(time.Hour)))
		}
		s, err := began(e, openOptions{job: builtin.JobFile, next: true, unmoved: true})
		if err != nil {
			t.Fatal(err)
		}
		if alone := len(s.events) > 1 && strings.HasSuffix(s.events[1].Mishap, "/left-alone"); alone != c.alone {
			t.Errorf("after %g h: %v", c.hours, s.events[1:])
		}
		s.record.Close()
	}
}

// Of three parts the second was scrapped at its inspection: the list says so, whatever its setups came to, and the next is part 4.
func TestBatchSaysWhatWasScrapped(t *testing.T) {
	e, disk, _ := shop(t)
	for part := 1; part <= 3; part++ {
		if code, err := practice(e, practiceOptions{holdDown: "T", setup: wholeJob, seed: 4, auto: true, out: "whole"}); err != nil || code != exitOK {
			t.Fatal(part, code, err)
		}
	}
	path := "whole/back.2.record.yaml"
	b, err := disk.Read(path, 1<<20)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(string(b), `bench/verdict/1/fate, value: "kept"`, `bench/verdict/1/fate, value: "scrapped"`, 1)
	if text == string(b) {
		t.Fatal("nobody said what becomes of the part")
	}
	if err := jobs.Rewrite(disk, path, []byte(text)); err != nil {
		t.Fatal(err)
	}
	j, err := e.readJob("whole/" + builtin.JobFile)
	if err != nil {
		t.Fatal(err)
	}
	out, err := e.batchOf(j, "whole/"+builtin.JobFile)
	if err != nil {
		t.Fatal(err)
	}
	var states []string
	for _, p := range out.Parts {
		states = append(states, p.State)
	}
	if !slices.Equal(states, []string{"released", "scrapped", "released"}) || out.Next != 4 {
		t.Errorf("%v, next %d", states, out.Next)
	}
}

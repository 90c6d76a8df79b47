package main

import (
	"math"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
)

// What an inspection finds stands on the fixture's card once it is released, with a correction where the rule and the person say so, and
// what stood there before; a part that had a mishap stands there too and corrects nothing. Nothing is written twice.
func TestInspectionRevisesTheCard(t *testing.T) {
	for _, c := range []struct {
		name string
		bump bool
	}{{"a good part", false}, {"a bumped one", true}} {
		e, disk, _ := shop(t)
		texts, err := builtin.Texts("inspect")
		if err != nil {
			t.Fatal(err)
		}
		disk.Put(builtin.JobFile, texts[builtin.JobFile])
		disk.Put("pl-2.fixture.yaml", texts["pl-2.fixture.yaml"]+"found: {back.0: {at: \"2026-02-01T09:00:00Z\", x: 0.014, temperature: 20.5C}}   # by hand\n")
		const seed = 10
		if got := walkNext(t, e, seed); got != "side2" {
			t.Fatalf("first comes %s", got)
		}
		if c.bump {
			s, err := began(e, openOptions{job: builtin.JobFile, setup: "side2"})
			if err != nil {
				t.Fatal(err)
			}
			keep(t, s, jobs.Event{At: e.now(), Mishap: "side2/part-bumped"})
			s.record.Close()
		}
		before, _ := jobs.ReadFixture(disk, "pl-2.fixture.yaml")
		if len(before.Found) != 1 {
			t.Fatalf("%+v", before.Found)
		}
		walkOn(t, e, "bench", seed)
		f, faults := jobs.ReadFixture(disk, "pl-2.fixture.yaml")
		if len(faults) > 0 || len(f.Found) != 2 || f.Found[0].Record != "back.1" || f.Found[1].X != 0.014 {
			t.Fatalf("%s: %v %+v\n%s", c.name, faults, f.Found, disk.Text("pl-2.fixture.yaml"))
		}
		row := f.Found[0]
		t.Logf("%s: %+v", c.name, row)
		moved := math.Abs(before.AsMade.PartZero.X-row.Took.X-f.AsMade.PartZero.X) < 2e-4 && math.Abs(before.AsMade.PartZero.Y-row.Took.Y-f.AsMade.PartZero.Y) < 2e-4
		took := row.Took.X != 0 || row.Took.Y != 0
		if took == c.bump || (row.LeftOut != "") != c.bump || (took && row.Took.Turn == 0 && !moved) || !took && f.AsMade.PartZero != before.AsMade.PartZero {
			t.Errorf("%s: %+v, part zero from %v to %v", c.name, row, before.AsMade.PartZero, f.AsMade.PartZero)
		}
		kept := f.History[0]
		for _, h := range f.History {
			if strings.HasPrefix(h.Key, "back.1#") {
				kept = h
			}
		}
		if took && (!strings.Contains(kept.Values["reason"], "of 2 parts, gain 0.") || kept.Values["was part-zero.0"] != "30.0000mm") {
			t.Errorf("history %+v", kept)
		}
		s, err := began(e, openOptions{job: builtin.JobFile, setup: "bench"})
		if err != nil {
			t.Fatal(err)
		}
		takeBackOnce(t, e, took, before)
		text := disk.Text("pl-2.fixture.yaml") + disk.Text("back.1.record.yaml")
		if s.record.Close(); text != disk.Text("pl-2.fixture.yaml")+disk.Text("back.1.record.yaml") {
			t.Error("something was written again")
		}
	}
}

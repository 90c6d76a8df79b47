package vise_test

import (
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/trial"
)

// onPlate makes the card of the other side's fixture one with three stops.
func onPlate(j *jobs.Job, _ *jobs.Setup) {
	a := &j.Fixture.AsMade
	a.Bore, a.Bore2, a.Edge = jobs.Bore{}, nil, nil
	a.Stops = &jobs.Stops{Long: "left", At: [2]float64{10, 60}, End: "away", EndAt: 40}
}

// secondBore gives it a second bore.
func secondBore(j *jobs.Job, _ *jobs.Setup) {
	j.Fixture.AsMade.Bore2 = &jobs.Bore2{At: jobs.Point{X: 120}}
}

// What the fixture of the other side is found by makes no reading of a jaw less: it is read at as many stations as the job sets, and
// back at the first. Records of the third walk keep their two ends.
func TestTheJawIsReadAsTheJobSets(t *testing.T) {
	for name, edit := range map[string]func(*jobs.Job, *jobs.Setup){"bore": func(*jobs.Job, *jobs.Setup) {}, "stops": onPlate, "second bore": secondBore} {
		for _, finds := range []string{"probe", "edge finder", "paper"} {
			p := plan(t, func(j *jobs.Job, s *jobs.Setup) { s.Finds = finds; edit(j, s) })
			if st := kit.Stations(p); len(st) != 7 || st[0] != 5 || kit.AlongY(p) {
				t.Errorf("%s, %s: stations %v", name, finds, st)
			}
			e, _ := kit.EdgeOf(p)
			closing := false
			for _, a := range (kit.EdgeBearing{P: p, Edge: e}).Run(fold.Trial(p, "square", trial.When, nil)) {
				closing = closing || a.Field == "close"
			}
			if !closing {
				t.Errorf("%s, %s: the dial does not come back to its first place", name, finds)
			}
			for walk, want := range map[string]int{"3": map[string]int{"bore": 7, "stops": 2, "second bore": 7}[name], "4": 7} {
				b := fold.Begin(p.Setup.Name, nil, "")
				b.Cards["walk"] = walk
				st := fold.Fold(p, []jobs.Event{b})
				if got := kit.Stations(st.Plan()); len(got) != want {
					t.Errorf("%s, walk %s: stations %v", name, walk, got)
				}
			}
		}
	}
}

// On the bench the dial runs along the jaw, by probe and by edge finder: it reads the same whatever the other side's fixture is
// found by.
func TestTheBenchDialsTheJaw(t *testing.T) {
	for _, finds := range []string{"probe", "edge finder"} {
		dialled := func(edit func(*jobs.Job, *jobs.Setup)) (out []string) {
			p := plan(t, func(j *jobs.Job, s *jobs.Setup) {
				if s.Finds = finds; finds != "probe" {
					j.Machine.Probe, j.Machine.Finder = nil, &jobs.EdgeFinder{Dia: 10, Repeat: 0.002}
				}
				edit(j, s)
			})
			k := bench.NewWalk(p, bench.NewWorld(p, 3, bench.Usual(p)), nil)
			if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "stock" }); !ok || err != nil {
				t.Errorf("%s: held at %v: %v %s", finds, k.HeldAt, err, k.Words)
			}
			for _, e := range k.Events {
				if strings.HasPrefix(e.Read, "side1/square/") {
					out = append(out, e.Read+" "+e.Value)
				}
			}
			return out
		}
		want := dialled(func(*jobs.Job, *jobs.Setup) {})
		if len(want) < 10 || !strings.Contains(strings.Join(want, " "), "/s7 ") {
			t.Fatalf("%s: read %v", finds, want)
		}
		for name, edit := range map[string]func(*jobs.Job, *jobs.Setup){"stops": onPlate, "second bore": secondBore} {
			if got := dialled(edit); !slices.Equal(got, want) {
				t.Errorf("%s, %s: read %v\nby a bore %v", name, finds, got, want)
			}
		}
	}
}

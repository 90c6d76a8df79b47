package bench_test

import (
	"fmt"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// plateInch is the inch fixture in the making, seasonInch the same out of its box.
func plateInch(j *jobs.Job, _ map[string]string) {
	in := float64(unit.Inch)
	at := func(x, y float64) jobs.Point { return jobs.Point{X: x * in, Y: y * in} }
	s := jobs.Setup{Name: "plate", Kind: "fixture", Card: j.Setups[0].Card, Offset: "G56", Finds: "edge finder", Hits: 6, Stations: 5,
		Make: jobs.Make{Tool: 3, Bore: 0.375 * in, Bore2: at(6, 0), Blank: 1 * in, Pads: []jobs.Pad{{Name: "left", Wall: "left", At: at(1.25, 2.45)}, {Name: "away 1", Wall: "away", At: at(1.8, 3.95)}, {Name: "away 2", Wall: "away", At: at(5.1, 3.95)}}}}
	j.Setups = append([]jobs.Setup{s}, j.Setups...)
}

func seasonInch(j *jobs.Job, _ map[string]string) {
	s := jobs.Setup{Name: "season", Kind: "reuse", Card: j.Setups[0].Card, Finds: "edge finder", Hits: 6, Stations: 5}
	j.Setups = append([]jobs.Setup{s}, j.Setups...)
}

// makings are fixtures in the making and fixtures that come back, of plastics that grow and of those that do not.
func makings(t testing.TB) []walked {
	t.Helper()
	of := func(kind string, edit func(j *jobs.Job, s *jobs.Setup)) *fold.Plan {
		return shipped(t, kind, func(j *jobs.Job, _ map[string]string) {
			if edit != nil {
				edit(j, &j.Setups[0])
			}
		})
	}
	one := func(tag, kind string, edit func(*jobs.Job, *jobs.Setup), m much) walked {
		return walked{setting{tag: kind + tag}, of(kind, edit), m}
	}
	acrylic := func(j *jobs.Job, _ *jobs.Setup) { j.Fixture.Material = "acrylic-cast" }
	times := func(xs ...float64) func(*jobs.Job, *jobs.Setup) {
		return func(j *jobs.Job, _ *jobs.Setup) {
			for i, x := range xs {
				j.Fixture.Seen = append(j.Fixture.Seen, jobs.Seen{Record: fmt.Sprint("back.", i), At: fmt.Sprintf("2026-01-%02dT09:00:00Z", i+1), Use: i + 1, Bore: x * 1e-3, Floor: x * 1e-3, Line: unit.Slope(x * 1e-6)})
			}
			j.Fixture.Uses = len(xs) + 1
		}
	}
	return []walked{
		one("", "fixture", nil, clean|wrongly|mistaken|large|mishappens|inSlice),
		one(" acrylic", "fixture", acrylic, clean|wrongly),
		one(" other walls", "fixture", func(j *jobs.Job, s *jobs.Setup) {
			for i := range s.Make.Pads {
				p := &s.Make.Pads[i]
				p.Wall = map[string]string{"left": "right", "away": "toward"}[p.Wall]
			}
			for i := range j.Setups {
				if j.Setups[i].Second() {
					j.Setups[i].Against = []string{"right", "toward"}
				}
			}
			j.Fixture.Threads = jobs.Threads{Kind: "none"}
			j.Fixture.AsMade.Edge = nil
		}, clean),
		{setting{"fixture inch", true}, shipped(t, "inch", plateInch), clean | wrongly | mistaken},
		one("", "reuse", nil, clean|wrongly|mistaken|large|mishappens|inSlice),
		one(" acrylic", "reuse", func(j *jobs.Job, s *jobs.Setup) {
			acrylic(j, s)
			j.Fixture.Threads.Retire, j.Fixture.Threads.Cycles = 0, 12
		}, clean|wrongly),
		one(" dry", "reuse", func(j *jobs.Job, s *jobs.Setup) {
			acrylic(j, s)
			j.Fixture.AsMade.Humidity = 68
		}, clean),
		one(" metal", "reuse", func(j *jobs.Job, _ *jobs.Setup) {
			j.Fixture.Material, j.Fixture.AsMade.Humidity, j.Fixture.AsMade.Temperature = "aluminium-6061-t6", 0, nil
		}, clean),
		one(" wearing", "reuse", times(0.4, -0.6, 0.9, 1.6, 1.2, 2.5, 2.9, 3.6), clean|wrongly),
		one(" no load", "reuse", func(j *jobs.Job, _ *jobs.Setup) { j.Part.Material = "something else" }, clean|wrongly),
		one(" for good", "reuse", func(j *jobs.Job, _ *jobs.Setup) {
			j.Fixture.Material, j.Fixture.Threads.Retire = "aluminium-6061-t6", 0
		}, clean),
		one(" quiet", "reuse", times(0.4, -0.6, 0.5, -0.3, 0.2, -0.5, 0.3, 0.1), clean),
		one(" corrected", "reuse", func(j *jobs.Job, _ *jobs.Setup) {
			j.Fixture.Threads.Crazed = 2
			for i := range 3 {
				j.Fixture.Found = append(j.Fixture.Found, jobs.Found{Record: fmt.Sprint("back.", i), At: fmt.Sprint("2026-02-0", i+1), X: 0.01, Took: jobs.Took{X: 0.006}})
			}
		}, clean),
		{setting{"reuse inch", true}, shipped(t, "inch", seasonInch), clean | wrongly | mistaken},
	}
}

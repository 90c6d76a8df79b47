package desk_test

import (
	"math"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// heads is a plan of a second side: a part 8 thick with 0.5 of skin in a pocket 6 deep, M2 screws through 2.5.
func heads(t *testing.T, change func(*jobs.Job, *jobs.Setup)) *fold.Plan {
	t.Helper()
	s := jobs.Setup{Name: "s", Kind: kit.SecondSide, Z0: "floor", Screws: jobs.Screws{Thread: "M2", Through: 2.5},
		Clamps: []jobs.Clamp{{Name: "left", Top: 28}}}
	j := &jobs.Job{}
	j.Part.Size, j.Part.Skin = [3]float64{96, 64, 8}, [2]float64{0.7, 0.5}
	j.Fixture.AsMade.Floor.Depth = 6
	if change != nil {
		change(j, &s)
	}
	j.Setups = []jobs.Setup{s}
	p, err := (&fold.House{Kinds: []*fold.Kind{{Name: kit.SecondSide}, {Name: kit.FirstSide, Raw: true}}, Limits: judge.LimitRows}).Plan(j, "s", nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The top of a screw head, worked by hand: an M2 head is 2.0 high (ISO 4762, verified copy), a washer lies under
// it, the face under both is Through above the seat or as given; what was measured counts when it is more.
func TestTopOfAScrewHead(t *testing.T) {
	for name, c := range map[string]struct {
		change   func(*jobs.Job, *jobs.Setup)
		measured float64
		want     float64
	}{
		"by the thread's table":     {nil, 0, 4.5},
		"measured higher":           {nil, 2.2, 4.7},
		"measured lower":            {nil, 1.8, 4.5},
		"with a washer":             {func(_ *jobs.Job, s *jobs.Setup) { s.Screws.Washer, s.Screws.WasherT = 5, 0.3 }, 0, 4.8},
		"a thickness of no washer":  {func(_ *jobs.Job, s *jobs.Setup) { s.Screws.WasherT = 0.3 }, 0, 4.5},
		"its height given":          {func(_ *jobs.Job, s *jobs.Setup) { s.Screws.Head = 1.2 }, 0, 3.7},
		"Z0 on the finished top":    {func(_ *jobs.Job, s *jobs.Setup) { s.Z0 = "finished top" }, 0, -3.5},
		"its face given":            {func(_ *jobs.Job, s *jobs.Setup) { s.Screws.Seat = 3 }, 0, 5},
		"its face given, from atop": {func(_ *jobs.Job, s *jobs.Setup) { s.Z0, s.Screws.Seat = "finished top", -5 }, 0, -3},
	} {
		if got, ok := desk.HeadTop(heads(t, c.change), c.measured); !ok || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %g, %t, want %g", name, got, ok, c.want)
		}
	}
	if _, ok := desk.HeadTop(heads(t, func(_ *jobs.Job, s *jobs.Setup) { s.Screws.Thread = "own" }), 0); ok {
		t.Error("a head of a thread that no table has a height for")
	}
}

// The height that clears what stands now, by 10 mm and rounded up to a whole one, or by 0.4 in to 0.05 in.
func TestHeightThatClears(t *testing.T) {
	clamps := func(_ *jobs.Job, s *jobs.Setup) { s.Screws.Seat = 12 }
	for name, c := range map[string]struct {
		change  func(*jobs.Job, *jobs.Setup)
		on      []fold.FactID
		z       float64
		highest string
	}{
		"the empty pocket":       {nil, nil, 16, "the fixture's rim"},
		"the part in it":         {nil, []fold.FactID{"seat"}, 19, "the part's top"}, // 8.5 and 10
		"strapped":               {nil, []fold.FactID{"seat", "clamps"}, 38, "clamp left"},
		"screwed":                {clamps, []fold.FactID{"seat", "screws"}, 24, "a screw head"}, // 14 and 10
		"screws not in yet":      {clamps, []fold.FactID{"seat"}, 19, "the part's top"},
		"something on the table": {func(_ *jobs.Job, s *jobs.Setup) { s.Obstacles = []jobs.Standing{{Name: "stop", Top: 40.2}} }, []fold.FactID{"clamps"}, 51, "stop"},
		"Z0 on the finished top": {func(_ *jobs.Job, s *jobs.Setup) { s.Z0 = "finished top" }, []fold.FactID{"seat"}, 11, "the part's top"}, // 0.5 and 10
		"in inches":              {func(j *jobs.Job, _ *jobs.Setup) { j.Unit = unit.Imperial }, nil, 0.65 * 25.4, "the fixture's rim"},      // 0.236 and 0.4
	} {
		on := func(f fold.FactID) bool {
			for _, o := range c.on {
				if o == f {
					return true
				}
			}
			return false
		}
		if z, highest := desk.ClearHeight(heads(t, c.change), on, kit.Thickness(heads(t, c.change))); math.Abs(z-c.z) > 1e-9 || highest != c.highest {
			t.Errorf("%s: %g over %s, want %g over %s", name, z, highest, c.z, c.highest)
		}
	}
}

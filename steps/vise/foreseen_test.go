package vise_test

import (
	"math"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
)

// What stops side 1 at the vise is known at the desk: `check` said nothing of a first side.
func TestSideOneAtTheDesk(t *testing.T) {
	for _, c := range []struct {
		name, limit string
		want        fold.Verdict
		says        string
		edit        func(*jobs.Job, *jobs.Setup)
	}{
		{"as it is", "", fold.Pass, "", nil},
		{"flutes of 5 down to 9", "jaws.reach", fold.Fail, "Tool 3: ", func(j *jobs.Job, _ *jobs.Setup) {
			t := j.Tools[3]
			t.Flute = 5
			j.Tools[3] = t
		}},
		{"a cut into the jaw", "jaws.room", fold.Fail, "goes 1.500 mm INTO the jaw", func(_ *jobs.Job, s *jobs.Setup) { s.Cut.Lowest = -13 }},
		{"half a millimetre over it", "jaws.room", fold.Fail, "passes 0.500 mm over the jaw", func(_ *jobs.Job, s *jobs.Setup) { s.Cut.Lowest = -11 }},
		{"too little grip", "grip.height", fold.Fail, "The jaws hold 2.500 mm; 14.500 mm above them want 3.000 mm.", func(_ *jobs.Job, s *jobs.Setup) { s.Vise.Grip, s.Vise.JawTop = 2.5, -14 }},
		{"jaws higher than their grip", "jaws.top", fold.Fail, "at Z -11.500 at the highest. The job has it at -8.500", func(_ *jobs.Job, s *jobs.Setup) { s.Vise.JawTop, s.Cut.Lowest = -8.5, -6 }},
		{"jaws lower: thicker stock", "jaws.top", fold.NotProven, "2.000 mm thicker", func(_ *jobs.Job, s *jobs.Setup) { s.Vise.JawTop = -13.5 }},
	} {
		p := plan(t, c.edit)
		d := desk.AtDesk(p)
		if d.Verdict() != c.want || len(d.Checks) < 4 {
			t.Errorf("%s: %v, want %v: %q", c.name, d.Verdict(), c.want, d.Findings)
		}
		if c.says != "" && !strings.Contains(strings.Join(d.Findings, "\n"), c.says) {
			t.Errorf("%s: %q", c.name, d.Findings)
		}
		for _, k := range d.Checks {
			if k.Limit.ID == c.limit && k.Verdict != c.want || math.IsNaN(k.Got) {
				t.Errorf("%s: %+v", c.name, k)
			}
		}
	}
}

package vise_test

import (
	"fmt"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// over is a first side with its offset keyed: Z0 stands at -300, the probe is 100 long.
func over(programs ...fold.Known) []fold.Known {
	return append([]fold.Known{{ID: "offset", Value: []float64{0, 0, -300, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0}}, {ID: "length/probe", Value: []float64{100}}, {ID: "top", Value: []float64{-300, 0, 0, -299.5, -199.5, 0}},
		{ID: "seat", Value: []float64{5, 12}}, {ID: "echo"}}, programs...)
}

func box(role string, x0, y0, z0, x1, y1, z1 float64) fold.Known {
	return fold.Known{ID: fold.FactID("program/" + role), Value: []float64{x0, y0, z0, x1, y1, z1}}
}

// A cut that goes 0.910 into the jaw was said as "-0.910 mm over the jaw", behind the jaw's own height.
func TestIntoTheJawIsSaidFirst(t *testing.T) {
	p := plan(t, nil)
	o := judged(t, p, "jaws", over(), [2]string{"jaw", fmt.Sprint(-300 + 100 - 8.09)}, [2]string{"wrenches", "0"}, [2]string{"dials", "0"})
	c := o.Checks[0]
	if c.Limit.ID != "jaws.room" || c.Verdict != fold.Fail || c.Limit.Class != fold.Never || !strings.Contains(c.Words, "goes 0.910 mm INTO the jaw") {
		t.Errorf("%+v", c)
	}
	if len(o.Next) == 0 || o.Next[0].Do != "reopen" || o.Next[0].Of != "grip" || strings.Contains(o.Next[0].Words, "by the number") {
		t.Errorf("%+v", o.Next)
	}
}

// Holes through the part go below the jaws' top: only deleting the program helped.
func TestHolesThroughThePartCanBeFinished(t *testing.T) {
	for _, c := range []struct {
		parallel float64
		y        float64
		want     fold.Verdict
		id       string
	}{
		{20, 6, fold.Pass, "jaws.under"},
		{1.5, 6, fold.Fail, "jaws.under"}, // 0.8 over the bed
		{20, 1, fold.Fail, "jaws.room"},   // beside the jaw
		{0, 6, fold.Pass, ""},
	} {
		p := plan(t, func(_ *jobs.Job, s *jobs.Setup) {
			s.HolesHere, s.Vise.Parallel = true, c.parallel
			s.Programs = []jobs.Program{{Role: "top", File: "top.nc"}, {Role: "drill", File: "drill.nc"}}
		})
		bottom := -p.Job.Part.Size[2] - p.Job.Part.Skin[1]
		o := judged(t, p, "jaws", over(box("top", -5, -5, -9, 101, 69, 25), box("drill", 6, c.y, bottom-0.7, 90, 58, 25)), [2]string{"jaw", fmt.Sprint(-300 + 100 - 11.5)}, [2]string{"under", "0"}, [2]string{"wrenches", "0"}, [2]string{"dials", "0"})
		for _, k := range o.Checks {
			if strings.HasPrefix(k.Limit.ID, "jaws.room") && c.id != "jaws.room" && k.Verdict != fold.Pass {
				t.Errorf("parallels %g: %+v", c.parallel, k)
			}
		}
		if c.id != "" {
			if k := checkOf(t, o, c.id); k.Verdict != c.want {
				t.Errorf("parallels %g, hole at %g: %+v", c.parallel, c.y, k)
			}
		}
	}
}

// The job says X0 Y0 in the middle of the part, and so do program check, jaws and picture; the offset had it at the corner.
func TestZeroInTheMiddleIsKeyedThere(t *testing.T) {
	p := plan(t, func(_ *jobs.Job, s *jobs.Setup) { s.Zero = "centre" })
	cov := [][]float64{{1e-6, 0}, {0, 1e-6}}
	facts := []fold.Known{{ID: "corner", Value: []float64{10, 20, 0, 0, 0, 0, 9, 19}, Cov: cov}, {ID: "top", Value: []float64{-300, 0, 0, -299.5, -199.5, 0}, Cov: [][]float64{{1e-6}}}, {ID: "identity", Value: []float64{20, 0}}, {ID: "skew", Value: []float64{0, 0}}}
	sp, _ := p.Spec("offset")
	o := judged(t, p, "offset", facts, [2]string{"pause", p.Setup.Offset})
	f, ok := o.Fact("offset")
	if !ok || f.Value[0] != 10+p.Job.Part.Size[0]/2 || f.Value[1] != 20+p.Job.Part.Size[1]/2 {
		t.Errorf("%v %+v %v", f.Value, o.Checks, sp.Title)
	}
}

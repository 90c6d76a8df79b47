package kit_test

import (
	"math"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/trial"
)

// A place is where card and job have it: a bore's hits on its wall, faces at the part's sides, all
// of the part moved by its zero.
func TestPlaceOf(t *testing.T) {
	j, fs := jobs.ReadJob(jobs.OS(), "../../jobs/testdata/lid.job.yaml")
	if err := fs.Err(); err != nil {
		t.Fatal(err)
	}
	p := trial.Plan(t, j, "side2", nil)
	z, _ := kit.PartZero(p)
	e := p.Job.Fixture.AsMade.Edge
	r := p.Job.Fixture.AsMade.Bore.Dia / 2
	w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
	for _, c := range []struct {
		what fold.What
		want fold.XY
		ok   bool
	}{
		{fold.What{Of: "bore", Dir: "0"}, fold.XY{X: r}, true},
		{fold.What{Of: "bore", Dir: "120"}, fold.XY{X: -r / 2, Y: r * math.Sqrt(3) / 2}, true},
		{fold.What{Of: "ring", Dir: "x-"}, fold.XY{X: -kit.RingDrawn}, true},
		{fold.What{Of: "ring/180", Dir: "y+"}, fold.XY{Y: kit.RingDrawn}, true},
		{fold.What{Of: "ring", Dir: "size"}, fold.XY{}, false},
		{fold.What{Of: "bore", Dir: "in"}, fold.XY{}, true},
		{fold.What{Of: "edge@40"}, fold.XY{X: e.From.X + 40, Y: e.From.Y}, true},
		{fold.What{Of: "rim@12.5,-3"}, fold.XY{X: 12.5, Y: -3}, true},
		{fold.What{Of: "part-top@10,20"}, fold.XY{X: z.X + 10, Y: z.Y + 20}, true},
		{fold.What{Of: "part-left@20"}, fold.XY{X: z.X, Y: z.Y + 20}, true},
		{fold.What{Of: "part-right@20"}, fold.XY{X: z.X + w, Y: z.Y + 20}, true},
		{fold.What{Of: "part-front@7"}, fold.XY{X: z.X + 7, Y: z.Y}, true},
		{fold.What{Of: "part-rear@7"}, fold.XY{X: z.X + 7, Y: z.Y + h}, true},
		{fold.What{Of: "stock-rear@7"}, fold.XY{X: 7, Y: 50}, true},
		{fold.What{Of: "spindle"}, fold.XY{}, false},
		{fold.What{Of: "tool/1"}, fold.XY{}, false},
		{fold.What{Of: "table@40"}, fold.XY{}, false},
		{fold.What{Of: "rim@x,1"}, fold.XY{}, false},
	} {
		got, ok := kit.PlaceOf(p, c.what, [2]float64{80, 50})
		if ok != c.ok || math.Hypot(got.X-c.want.X, got.Y-c.want.Y) > 1e-9 {
			t.Errorf("%+v: %v %v, want %v %v", c.what, got, ok, c.want, c.ok)
		}
	}
}

package side2_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/trial"
)

// A floor that leans by its limit passes in no more than 5 of 100 goes, however often a go looks: by a probe of the card's scatter and by a
// dial, along one axis and along both, each place with a face of its own. The face is that of this test; the step reckons with its own.
func TestFloorAtItsLimitDoesNotPass(t *testing.T) {
	t.Parallel()
	const goes = 400
	r := rand.New(rand.NewPCG(5, 95))
	for _, instrument := range []string{"probe", "dial"} {
		j, err := builtin.Job("T")
		if err != nil {
			t.Fatal(err)
		}
		if instrument == "dial" {
			j.Setups[0].Finds, j.Machine.Probe = "dial", nil
		}
		p := trial.Plan(t, j, j.Setups[0].Name, nil).AtLevel(fold.Irreplaceable)
		lo, hi := kit.OutlineBox(p.Job.Fixture.Pocket.Outline)
		for _, both := range []float64{0, 0.5} {
			limit := p.Limit("floor.tilt").Max
			tx, ty := (1-both)*limit/(hi.X-lo.X), both*limit/(hi.Y-lo.Y)
			passed, looks := 0, 0
			for range goes {
				o, n := floorGo(p, r, tx, ty)
				looks += n
				for _, c := range o.Checks {
					if c.Limit.ID == "floor.tilt" && c.Verdict == fold.Pass {
						passed++
					}
				}
			}
			t.Logf("%s, %.0f %% of it along Y: %d of %d pass, %.1f readings each", instrument, 100*both, passed, goes, float64(looks)/goes)
			if most := 0.05*goes + 3*math.Sqrt(0.05*0.95*goes); float64(passed) > most {
				t.Errorf("%s, %.0f %% of it along Y: %d of %d pass", instrument, 100*both, passed, goes)
			}
		}
	}
}

// floorGo is one go at the floor, all asked of it typed as a leaning floor reads.
func floorGo(p *fold.Plan, r *rand.Rand, tx, ty float64) (fold.Outcome, int) {
	sp, _ := p.Spec("floor")
	face := map[string]float64{}
	height := func(of string) float64 {
		at, _ := strings.CutPrefix(of, "floor@")
		x, y, _ := strings.Cut(at, ",")
		px, _ := strconv.ParseFloat(x, 64)
		py, _ := strconv.ParseFloat(y, 64)
		if _, ok := face[at]; !ok {
			face[at] = 0.001 * r.NormFloat64()
		}
		return tx*px + ty*py + face[at]
	}
	var typed [][2]string
	zero := 0.0
	for {
		v := fold.Trial(p, "floor", time.Time{}, nil, typed...)
		asks := sp.Wanted(v)
		i := slices.IndexFunc(asks, func(a fold.Ask) bool { return !v.Has(a.Field) })
		if i < 0 {
			return sp.Judge(v), len(typed)
		}
		a := asks[i]
		z := 0.0
		switch {
		case a.Field == "block":
			z = 10
		case a.What.By == "dial":
			if from, ok := strings.CutPrefix(a.What.Dir, "from "); ok {
				zero = height("floor@" + from)
			}
			z = math.Round((height(a.What.Of)-zero+0.0003*r.NormFloat64())/0.001) * 0.001
		case strings.HasPrefix(a.What.Of, "floor@"):
			z = math.Round((height(a.What.Of)+0.001*r.NormFloat64())/0.001) * 0.001
		default:
			z = 12
		}
		typed = append(typed, [2]string{a.Field, fmt.Sprintf("%.4fmm", z)})
	}
}

package desk_test

import (
	"math"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/trial"
)

// A part measured 26.70 after side 1, which the job says is 16.02, has that stock over it when its program is checked.
func TestStockAsMeasuredOnSide1(t *testing.T) {
	p := trial.Plan(t, trial.Lid(t), "side2", nil)
	measured := facts.Thickness.Is(facts.ThicknessFact{T: unit.Length(26.70)})
	measured.By = "open"
	for want, known := range map[float64][]fold.Known{10.70: {measured}, 0.02: nil} {
		get := func(id fold.FactID) (fold.Known, bool) {
			for _, k := range known {
				if k.ID == id {
					return k, true
				}
			}
			return fold.Known{}, false
		}
		if got := desk.StockOver(p, get); math.Abs(got-want) > 1e-9 {
			t.Errorf("stock over the part %.3f, want %.2f", got, want)
		}
	}
}

package budget_test

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
)

func ExampleCombine() {
	r := budget.Combine([]budget.Line{
		budget.N("bore", 0.0012, 30).From("pooled repeat, six hits"),
		budget.N("skew", 16e-6, math.Inf(1)).Times(70), // rad, over a lever of 70 mm
		budget.R("clearance", 0.030),
	})
	fmt.Printf("U %.3f, guard %.3f\n", r.U, r.Guard)
	fmt.Printf("largest: %s, %.0f %%\n", r.Largest.Name, 100*r.Share)
	fmt.Println(budget.Decide(0.007, r.Guard, budget.AtMost, 0.050))
	// Output:
	// U 0.029, guard 0.027
	// largest: clearance, 99 %
	// PASS
}

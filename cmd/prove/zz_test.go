package main
import ("testing";"fliptrue/steps/fold";"fliptrue/steps/bench";"fliptrue/steps";"os";"strconv";"fmt")
func TestZZ(t *testing.T) {
	j, programs, _ := builtinJob(os.Getenv("PLAN"))
	p, err := steps.NewPlan(j, j.Setups[0].Name, programs)
	if err != nil { t.Fatal(err) }
	n,_ := strconv.Atoi(os.Getenv("LV"))
	res, err := bench.Auto(p.AtLevel(fold.Level(n)), bench.Options{Seed: 1})
	if err != nil { t.Fatal(err) }
	st := res.Walk.State()
	for _, ss := range st.Steps {
		fmt.Println(ss.ID, ss.Verdict, ss.Needed)
		for _, c := range ss.Outcome.Checks { if c.Verdict != fold.Pass { fmt.Printf("   %s %v got %v g %v max %v largest %s %s\n", c.Limit.ID, c.Verdict, c.Got, c.Guard, c.Limit.Max, c.Largest, c.Words) } }
		if ss.ID=="release" { for _, l := range ss.Outcome.Lines { fmt.Printf("     %s %v ±%v %s\n", l.Label, l.Value, l.Guard, l.Text) }; for _, n := range ss.Outcome.Notes { fmt.Println("     -", n)} }
	}
	fmt.Println(res.State, res.Walk.Words, res.Walk.Failed)
}

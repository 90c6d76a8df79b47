package fold_test

import (
	"reflect"
	"testing"

	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// A typed fact comes back as it was written, with its covariance by name; what no version wrote is not read.
func TestTypedFacts(t *testing.T) {
	cov := fold.NewCov("x,y", [][]float64{{1e-6, 2e-7}, {2e-7, 4e-6}})
	b := facts.BoreFact{X: -312.4, Y: -118.2, Dia: 8.003, Cov: cov, Dof: 4}
	k := facts.Bore.Is(b)
	if want := []float64{-312.4, -118.2, 8.003}; !reflect.DeepEqual(k.Value, want) || len(k.Cov) != 2 || k.Dof != 4 {
		t.Fatalf("written as %+v", k)
	}
	if got, ok := facts.Bore.Read(k); !ok || !reflect.DeepEqual(got, b) {
		t.Errorf("read back as %+v, %t", got, ok)
	}
	if cov.Between("x", "y") != 2e-7 || cov.Var("y") != 4e-6 {
		t.Error("the covariance by name is another")
	}
	two := facts.BoreFact{X: 1, Y: 2, Cov: fold.NewCov("x,y,theta,scale", make4())}
	if k := facts.Bore.Is(two); len(k.Value) != 5 || len(k.Cov) != 4 {
		t.Errorf("a fact of two bores is written as %+v", k)
	}
	for name, k := range map[string]fold.Known{
		"too few numbers":                {ID: "bore", Value: []float64{1}},
		"too many":                       {ID: "bore", Value: []float64{1, 2, 3, 4, 5, 6}},
		"a covariance nobody ever wrote": {ID: "bore", Value: []float64{1, 2, 3}, Cov: [][]float64{{1}}},
	} {
		if _, ok := facts.Bore.Read(k); ok {
			t.Errorf("%s is read", name)
		}
	}
	base := facts.BaselineFact{N: 2, S: 0.001, Freedom: 3, D: []float64{4, 5}}
	if got, ok := facts.Baseline.Read(facts.Baseline.Is(base)); !ok || !reflect.DeepEqual(got, base) {
		t.Errorf("the rest comes back as %+v", got)
	}
	defer func() {
		if recover() == nil {
			t.Error("an absent variance passes for an exact value")
		}
	}()
	cov.Var("theta")
}

func make4() [][]float64 {
	m := make([][]float64, 4)
	for i := range m {
		m[i] = make([]float64, 4)
		m[i][i] = 1e-6
	}
	return m
}

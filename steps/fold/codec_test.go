package fold_test

import (
	"encoding/json"
	"math"
	"testing"

	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// Both forms of a card give the same fact.
func TestBothFormsOfACard(t *testing.T) {
	old := `{"value":[-312.4,-118.2,8.003],"cov":[[1e-6,2e-7],[2e-7,3e-6]],"dof":4}`
	named := `{"fact":{"y":-118.2,"x":-312.4,"dia":8.003},"cov":{"x x":1e-6,"y x":2e-7,"y y":3e-6},"dof":4}`
	var got [2]facts.BoreFact
	for i, text := range []string{old, named} {
		k, err := fold.FromCard(facts.Bore, text)
		if err != nil {
			t.Fatal(text, err)
		}
		var ok bool
		if got[i], ok = facts.Bore.Read(k); !ok {
			t.Fatal(text)
		}
		if b := got[i]; b.X != -312.4 || b.Y != -118.2 || b.Dia != 8.003 || b.Dof != 4 || b.Cov.Var("x") != 1e-6 || b.Cov.Between("y", "x") != 2e-7 || b.Cov.Var("y") != 3e-6 {
			t.Errorf("%s: %+v", text, b)
		}
	}
}

// What no version wrote, and what can't be, is refused.
func TestCardsThatNoVersionWrote(t *testing.T) {
	good := `"cov":[[1e-6,0],[0,1e-6]]`
	for _, c := range []string{
		`{}`, `null`, `[]`, `x`, ``, `{"value":[1]}`, `{"value":[1,2,3]}`, `{"value":[1,2,3,4,5,6],` + good + `}`, `{"value":[],` + good + `}`,
		`{"value":[1,2,3],"cov":[]}`, `{"value":[1,2,3],"cov":{}}`, `{"value":[1,2,3],"cov":[[1]]}`, `{"value":[1,2,3],"cov":[[1,0,0],[0,1,0],[0,0,1]]}`,
		`{"value":[1,2,3],"cov":[[1,2],[3]]}`, `{"value":[1,2,3],"cov":[[1,0],[0]]}`, `{"value":[1,2,3],"cov":[[-1,0],[0,1]]}`,
		`{"value":[1,2,3],"cov":[[1,0.5],[0.4,1]]}`, `{"value":[1,2,3],"cov":[[1,1.1],[1.1,1]]}`, `{"value":[1,2,3],"cov":[[0,1],[1,1]]}`,
		`{"value":[1,2,3],` + good + `,"dof":-1}`, `{"value":[1,2,3],` + good + `} x`, `{"value":[1e9,2,3],` + good + `}`, `{"value":[1,2,3],` + good + `,"more":1}`,
		`{"fact":{"x":1},` + good + `}`, `{"fact":{"x":1,"y":2,"z":3},` + good + `}`, `{"fact":{"x":1,"y":2},"value":[1,2],` + good + `}`,
		`{"fact":{"x":1,"y":2},"cov":{"x x":1,"y y":1}}`, `{"fact":{"x":1,"y":2},"cov":{"x x":1,"x y":0,"z z":1}}`, `{"fact":{"x":1,"y":2}}`,
		// pairs alone are possible, all three together are not: a sum would vary by less than nothing
		`{"value":[1,2,3,0,0],"cov":[[1,-0.9,-0.9,0],[-0.9,1,-0.9,0],[-0.9,-0.9,1,0],[0,0,0,1]]}`,
	} {
		if k, err := fold.FromCard(facts.Bore, c); err == nil {
			t.Errorf("%s is read as %+v", c, k)
		}
	}
	for _, c := range []string{`{"value":[1,2,3],` + good + `}`, `{"value":[1,2],"cov":[[0,0],[0,0]]}`, `{"value":[1,2,3,0,0],"cov":[[1,0.5,0,0],[0.5,1,0,0],[0,0,0,0],[0,0,0,0]]}`} {
		if _, err := fold.FromCard(facts.Bore, c); err != nil {
			t.Errorf("%s: %v", c, err)
		}
	}
	if _, err := fold.FromCard(facts.Echo, `{}`); err != nil {
		t.Error("an act that was done has no number:", err)
	}
}

// Whatever a card says: refused with words, or a fact of its type with a covariance of its size.
func FuzzTakenCard(f *testing.F) {
	for n := range facts.Mounting.Facts {
		for _, c := range []string{`{}`, `{"value":[1,2,3],"cov":[[1,0],[0,1]],"dof":4}`, `{"value":[1e308,-1e308]}`, `{"fact":{"x":1,"y":2},"cov":{"x x":1,"x y":0,"y y":1}}`,
			`{"value":[1,2,3],"cov":[[],[]]}`, `{"value":[1,2,3],"cov":[null,null]}`, `{"cov":{"l l":1},"fact":{"l":120}}`, `{"value":[1,2,3,4,5,6,7,8,9,10,11,12],"cov":[[1,0,0,0],[0,1,0,0],[0,0,1,0],[0,0,0,1]]}`} {
			f.Add(n, c)
		}
	}
	f.Fuzz(func(t *testing.T, n int, text string) {
		of := facts.Mounting.Facts[(n%len(facts.Mounting.Facts)+len(facts.Mounting.Facts))%len(facts.Mounting.Facts)]
		k, err := fold.FromCard(of, text)
		if err != nil {
			if err.Error() == "" {
				t.Error("refused without a word")
			}
			return
		}
		for i, row := range k.Cov {
			if len(row) != len(k.Cov) || !(row[i] >= 0) {
				t.Fatalf("%s: covariance %v", text, k.Cov)
			}
		}
		for _, x := range append([]float64{k.Dof}, k.Value...) {
			if math.IsInf(x, 0) || math.IsNaN(x) {
				t.Fatalf("%s: %v", text, k.Value)
			}
		}
		again, err := json.Marshal(map[string]any{"value": k.Value, "cov": k.Cov, "dof": k.Dof})
		if err != nil {
			t.Fatal(err)
		}
		if len(k.Cov) > 0 {
			if _, err := fold.FromCard(of, string(again)); err != nil {
				t.Fatalf("%s, written again %s: %v", text, again, err)
			}
		}
	})
}

package checks

import (
	"slices"

	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// PartOutWords are how the part comes out of what it lies in.
type PartOutWords struct {
	In     string     // what it lies in: pocket, nest
	Do     []fold.Act // the hand's work, before the first thing asked
	Counts []fold.Ask // what could still hold it, none of which may be left
	Next   string     // what is done in the bare place

	Learned, Why, Act, Read, Caution string
}

// PartOut takes the part out of its place, before anything that needs the place bare.
func PartOut(p *fold.Plan, w PartOutWords) *fold.Spec {
	asks := append(slices.Clone(w.Counts), fold.Ask{Field: "pocket", Label: "the " + w.In + " is", Kind: fold.Choice,
		Options: []string{"bare", "not bare"}, What: fold.What{By: "eye", Of: "pocket", Dir: "bare"}, Want: "bare",
		WantWhy: "Its floor is touched next, or " + w.Next + ".", Hint: "Take out what lies in it."})
	asks[0].Do = w.Do
	return &fold.Spec{
		Title: "part out", Raises: []fold.MishapID{"part-out"},
		Asks: func(fold.View) []fold.Ask { return asks },
		Judge: func(v fold.View) fold.Outcome {
			o := fold.Outcome{Learned: w.Learned}
			wrong := !fold.SameAnswer(v.Text("pocket"), "bare")
			next := slices.Clone(w.Do)
			for _, a := range w.Counts {
				wrong = wrong || v.Has(a.Field) && v.Text(a.Field) != "0"
				if v.Has(a.Field) {
					next = append(next, fold.Act{Do: "again", Of: a.Field})
				}
			}
			if wrong {
				o.Next = append(next, fold.Act{Do: "again", Of: "pocket"})
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: w.Why, Act: w.Act, Read: w.Read, Caution: w.Caution, Scene: kit.Scene(p, v, nil)}
		},
	}
}

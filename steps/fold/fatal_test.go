package fold_test

import (
	"slices"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// ending is a kind whose first step asks a word with a cure, in one form with another field, then two more.
func ending() *fold.Kind {
	word := fold.Ask{Field: "word", Label: "the word", Kind: fold.Text, Want: "G54", WantWhy: "Another one.", Form: "f", Shows: "other",
		Cure: []fold.Act{{Do: "post", Of: "program", Words: "Post it anew."}, {Do: "again", Of: "word"}}}
	asks := func(fold.View) []fold.Ask {
		return []fold.Ask{word, {Field: "beside", Label: "beside it", Kind: fold.Count, Form: "f"}, {Field: "n", Label: "a count", Kind: fold.Count},
			{Field: "last", Label: "the last", Kind: fold.Count}}
	}
	return &fold.Kind{Name: "ending", Goal: "a", Line: []fold.Place{at("t.a", fold.Spec{Makes: []fold.FactID{"a"}, Asks: asks}),
		at("t.b", fold.Spec{Makes: []fold.FactID{"b"}})}}
}

func ended(t *testing.T, walk string, given ...[2]string) (st fold.State, asked []string) {
	t.Helper()
	y := small(t, ending(), walk, "s")
	y.put(jobs.Event{Round: "s/t.a/1"})
	for _, g := range given {
		y.put(jobs.Event{Answer: "s/t.a/1/" + g[0], Value: g[1]})
	}
	st = y.l.State(y.p)
	for _, ss := range st.Steps {
		for _, a := range ss.Asks {
			if ss.ID == "t.a" {
				asked = append(asked, a.Field)
			}
		}
	}
	return st, asked
}

// A wrong answer that nothing after it can mend ends the step there: its form is asked, nothing behind it, and its cure
// is what is done next.
func TestFatalAnswerEndsTheStep(t *testing.T) {
	st, asked := ended(t, "3", [2]string{"word", "G55"}, [2]string{"beside", "1"})
	if !slices.Equal(asked, []string{"word", "beside"}) {
		t.Errorf("asked: %v", asked)
	}
	ss, _ := st.Step("t.a")
	if !st.Cursor.Decide || ss.Verdict != fold.Fail || len(ss.Outcome.Next) != 2 || ss.Outcome.Next[0].Words != "Post it anew." || ss.Outcome.Named != "other" {
		t.Errorf("decide %v, %v, next %+v, named %q", st.Cursor.Decide, ss.Verdict, ss.Outcome.Next, ss.Outcome.Named)
	}
	if _, ok := st.Fact("a"); ok {
		t.Error("it makes its fact")
	}
}

// Until its form is answered the form is asked; a right answer asks all; one put right goes on where it ended.
func TestFatalAnswerInItsForm(t *testing.T) {
	if st, _ := ended(t, "3", [2]string{"word", "G55"}); st.Cursor.Field != "beside" || st.Cursor.Decide {
		t.Errorf("at %q", st.Cursor.Field)
	}
	all := []string{"word", "beside", "n", "last"}
	if st, asked := ended(t, "3", [2]string{"word", " g54 "}, [2]string{"beside", "1"}); !slices.Equal(asked, all) || st.Cursor.Field != "n" {
		t.Errorf("right: asked %v, at %q", asked, st.Cursor.Field)
	}
	st, asked := ended(t, "3", [2]string{"word", "G55"}, [2]string{"beside", "1"}, [2]string{"word", "G54"})
	if !slices.Equal(asked, all) || st.Cursor.Field != "n" {
		t.Errorf("put right: asked %v, at %q", asked, st.Cursor.Field)
	}
}

// What was given behind it all the same is kept and asked for; records of the first two walks are asked everything.
func TestFatalAnswerKeepsWhatIsGiven(t *testing.T) {
	if _, asked := ended(t, "3", [2]string{"word", "G54"}, [2]string{"beside", "1"}, [2]string{"last", "2"}, [2]string{"word", "G55"}); !slices.Equal(asked, []string{"word", "beside", "last"}) {
		t.Errorf("given behind: asked %v", asked)
	}
	if _, asked := ended(t, "2", [2]string{"word", "G55"}, [2]string{"beside", "1"}); !slices.Equal(asked, []string{"word", "beside", "n", "last"}) {
		t.Errorf("second walk: asked %v", asked)
	}
}

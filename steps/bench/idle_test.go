package bench_test

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// No question is asked whose answer changes nothing: each is answered otherwise in a walk that was walked to its end, and
// something else than the answer has to be another then: a verdict, a fact, what is asked, what is to be done, what is said.
//
//	UPDATE=1 go test -run TestEveryAnswerMatters ./steps/bench
//
// words-idle.golden has those that change nothing. It may only shrink.
func TestEveryAnswerMatters(t *testing.T) {
	matters, asked := map[string]bool{}, map[string]bool{}
	for _, w := range expectedWalks(t) {
		k := bench.NewWalk(w.plan, bench.NewWorld(w.plan, 21, bench.Usual(w.plan)), nil)
		if _, err := k.Until(nil); err != nil {
			t.Fatal(err)
		}
		if w.letsGo {
			if err := k.LetGo(); err != nil {
				t.Fatal(err)
			}
			if _, err := k.Until(nil); err != nil {
				t.Fatal(err)
			}
		}
		st := k.State()
		was := meant(st)
		for i, e := range k.Events {
			a, key, ok := question(st, e.Answer)
			if !ok || matters[key] {
				continue
			}
			asked[key] = true
			for _, other := range otherwise(a, e.Value) {
				es := slices.Clone(k.Events)
				es[i].Value = other
				if then := fold.Fold(st.Plan(), es); meant(&then) != was {
					matters[key] = true
					break
				}
			}
		}
	}
	var idle []string
	for key := range asked {
		if !matters[key] {
			idle = append(idle, key)
		}
	}
	only(t, "idle", "questions whose answer changes nothing", idle)
	if len(asked) < 150 {
		t.Errorf("only %d questions were asked: the walks do not walk", len(asked))
	}
	t.Logf("%d questions, %d of them change nothing", len(asked), len(idle))
}

// question is the choice or count that an answer was given to, by kind, step and field.
func question(st *fold.State, address string) (a fold.Ask, key string, ok bool) {
	f := strings.Split(address, "/")
	if len(f) != 4 || f[0] != st.Setup {
		return a, "", false
	}
	ss, ok := st.Step(fold.StepID(f[1]))
	if !ok {
		return a, "", false
	}
	i := slices.IndexFunc(ss.Asks, func(a fold.Ask) bool { return a.Field == f[3] })
	if i < 0 {
		return a, "", false
	}
	a = ss.Asks[i]
	return a, fmt.Sprintf("%s: %s/%s", st.Plan().Setup.Kind, f[1], strings.TrimRight(f[3], "0123456789")),
		(a.Kind == fold.Choice || a.Kind == fold.Count) && a.Self == nil
}

// otherwise are other answers to it.
func otherwise(a fold.Ask, value string) (out []string) {
	if a.Kind == fold.Count {
		n, _ := strconv.Atoi(value)
		return []string{strconv.Itoa(n + 1), strconv.Itoa(max(n-1, 0)), strconv.Itoa(n + 3), "0"}
	}
	for _, o := range a.Options {
		if !fold.SameAnswer(o, value) {
			out = append(out, o)
		}
	}
	return out
}

// meant is what a record means, the answers themselves left out.
func meant(st *fold.State) string {
	var b strings.Builder
	fmt.Fprintln(&b, st.Cursor, st.Left, st.Released, len(st.Troubles))
	for i := range st.Steps {
		ss := &st.Steps[i]
		o := ss.Outcome
		fmt.Fprintln(&b, ss.ID, ss.Verdict, o.Checks, o.Next, o.Named, o.Learned, o.Notes, o.Leaves, o.Lines)
		known(&b, o.Facts)
		for _, a := range ss.Asks {
			fmt.Fprintln(&b, a.Field, a.Label, a.Do)
		}
	}
	known(&b, st.Facts)
	return b.String()
}

func known(b *strings.Builder, fs []fold.Known) {
	for _, f := range fs {
		fmt.Fprintln(b, f.ID, f.Value, f.Cov, f.Void != nil)
	}
}

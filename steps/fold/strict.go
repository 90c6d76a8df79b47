package fold

import (
	"slices"
	"strings"
)

// Strict makes a look at what a step did not declare a panic: the tests' way. Otherwise such a
// look finds nothing, the State has a Trouble, and the step does not pass.
var Strict = false

// Looked and Asked are for a test over many walks: a field that a step looks at while it does not
// ask for it, and one that it asks for. A field that is looked at and never asked is misspelt.
var Looked, Asked func(StepID, string)

// looks is what a step's functions looked at in one judging.
type looks struct {
	spec  *Spec
	asked map[string]bool // fields that the step asks for, nil while it is being asked
	early []string        // fields looked at while it was being asked
	wrong []string
}

// undeclared notes a look at what the step did not declare.
func (l *looks) undeclared(what string) {
	said := "step " + string(l.spec.ID) + " looks at " + what
	if Strict {
		panic("fold: " + said)
	}
	if !slices.Contains(l.wrong, said) {
		l.wrong = append(l.wrong, said)
	}
}

// may says whether the step needs a fact.
func (l *looks) may(id FactID) bool {
	return l == nil || slices.ContainsFunc(l.spec.Needs, func(n Need) bool { return n.Fact == id && n.Rests != OnlyAsked })
}

// fact says whether the step may look at a fact.
func (l *looks) fact(id FactID) bool {
	if l.may(id) {
		return true
	}
	l.undeclared("the fact " + string(id) + " without needing it")
	return false
}

// field notes a look at a field of the round.
func (l *looks) field(f string) {
	switch {
	case l == nil || Looked == nil:
	case l.asked == nil:
		l.early = append(l.early, f)
	case !l.asked[f]:
		Looked(l.spec.ID, f)
	}
}

// ask holds what was looked at while the step was asked against what it asks for.
func (l *looks) ask(asks []Ask) {
	if l == nil {
		return
	}
	l.asked = map[string]bool{}
	for _, a := range asks {
		l.asked[a.Field] = true
	}
	for _, f := range l.early {
		l.field(f)
	}
	if Asked != nil {
		for f := range l.asked {
			Asked(l.spec.ID, f)
		}
	}
}

// trouble is what is said of looks at what was not declared, nil when there were none.
func (l *looks) trouble(at Seq) []Trouble {
	if l == nil || len(l.wrong) == 0 {
		return nil
	}
	return []Trouble{{Seq: at, What: "a mistake of this program: " + strings.Join(l.wrong, "; "),
		Hint: "the step does not count; report it, and do by hand what it asks"}}
}

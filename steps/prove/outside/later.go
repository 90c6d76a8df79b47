package outside

import (
	"fmt"
	"math"
	"regexp"
	"slices"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// What comes before and behind the cut: a fixture made, one back for another season, a part that let go, a part inspected.

// Later is one record of such a setup with what was true.
type Later struct {
	Walked
	Kind   string
	Wrong  Mistake  // with no name: none
	Claims []Claim  // what is true of what the program states
	Seen   []string // limits that did not pass before anything was mended
	Said   []string // what stood beside them to be done
	Mended bool     // something did not pass and was done over, then rightly
	Advice []Advice
	Split  map[string]string   // by what is claimed: of which sort it is here, counted by itself
	Card   map[string]string   // what the fixture's card would be told
	Faulty func(Said) []string // what of what is offered is wrong, in words; nil: nothing more is looked at
	Tale   []string            // the world in words, for one record told in full
}

// Claim is what is true of one number that a step states.
type Claim struct {
	Step, What string // as replay --json has them
	True       float64
	Most       bool // only not more than stated is claimed: the value is the worst of several
}

// Advice is a number in words that a step gives to be acted by, beside what would be right.
type Advice struct {
	Step, What string
	Words      *regexp.Regexp // s is a word for the sign, n a number
	Plus       string         // the word that is +
	Right, By  float64        // what would be right, and how far off it may be
}

// Offered are the numbers that the words of a step offer.
func (a Advice) Offered(s Said) (out []float64) {
	for _, st := range s.Sheet.Steps {
		if st.ID != a.Step {
			continue
		}
		for _, words := range slices.Concat(st.Notes, st.Next) {
			if m := a.Words.FindStringSubmatch(words); m != nil {
				x := number(m[a.Words.SubexpIndex("n")])
				if m[a.Words.SubexpIndex("s")] != a.Plus {
					x = -x
				}
				out = append(out, x)
			}
		}
	}
	return out
}

// Good says that an offer has the right sign and size.
func (a Advice) Good(offered float64) bool {
	return math.Abs(offered-a.Right) <= a.By && (offered*a.Right > 0 || math.Abs(a.Right) < a.By)
}

// Mistake is one thing that is done wrong, with its size, at a step or several.
type Mistake struct {
	Kind, Name, Meaning string
	At                  []fold.StepID // where it is made, and mended
	Comes               Comes
}

func at(steps ...fold.StepID) []fold.StepID { return steps }

// Comes is what has to come of a mistake.
type Comes string

// What may come of one.
const (
	Seen     Comes = "seen"     // it does not pass; done over rightly, all is well
	Lasts    Comes = "lasts"    // it does not pass, and nobody can mend it at the step: the walk ends there
	Harmless Comes = "harmless" // what is stated stays true, whether or not it shows
	Unseen   Comes = "unseen"   // no reading shows it, or not always
)

// Mistakes are those of all such setups.
var Mistakes = slices.Concat(inspectMistakes, reuseMistakes, rescueMistakes, makingMistakes)

// LaterKinds are the kinds of these setups.
var LaterKinds = []string{"inspect", "reuse", "rescue", "fixture"}

// WalkLater walks one setup of a kind with a mistake, "" for none.
func WalkLater(kind, mistake string, seed uint64) (*Later, error) {
	var wrong Mistake
	if mistake != "" {
		i := slices.IndexFunc(Mistakes, func(m Mistake) bool { return m.Kind == kind && m.Name == mistake })
		if i < 0 {
			return nil, fmt.Errorf("mistake %q of %s is not known", mistake, kind)
		}
		wrong = Mistakes[i]
	}
	switch kind {
	case "inspect":
		return walkInspect(wrong, seed)
	case "reuse":
		return walkReuse(wrong, seed)
	case "rescue":
		return walkRescue(wrong, seed)
	case "fixture":
		return walkMaking(wrong, seed)
	}
	return nil, fmt.Errorf("kind %q is not known; known are %v", kind, LaterKinds)
}

// later is a walker of such a setup: it answers from a world of its own, and does over once, rightly, what does not pass.
type later struct {
	walker
	out   Later
	gives func(a fold.Ask, of string, x, y float64) (string, error)
	acts  func(a fold.Act) // what is done of what is said to be done next; nil: nothing

	accepts []string      // limits that are accepted by their number
	redo    []fold.StepID // steps that are still to be done over
	doing   fold.StepID   // the one that is
}

func newLater(kind string, wrong Mistake, seed uint64, shop Shop) *later {
	k := &later{walker: walker{Walked: Walked{Seed: seed, Shop: shop}, log: steps.NewLog(), at: began, rounds: map[fold.StepID]int{}}}
	k.out.Kind, k.out.Wrong = kind, wrong
	k.own = func(a fold.Ask) (string, error) {
		of, x, y := placeOf(a)
		if err := sameAsWords(a, of, x, y); err != nil {
			return "", err
		}
		return k.gives(a, of, x, y)
	}
	return k
}

// begin opens a setup of the job in the record.
func (k *later) begin(p *fold.Plan) {
	k.plan = p
	k.put([]jobs.Event{p.Level().At(fold.Begin(p.Setup.Name, jobs.Flatten(p.Job), "keyed"))})
}

// walk goes to the end of the setup.
func (k *later) walk() (*Later, error) {
	for range longest {
		k.State = k.log.State(k.plan)
		es := k.over()
		if c := k.State.Cursor; es == nil && c.Decide && !k.State.Released {
			es = k.sees(c.Step)
		}
		if es != nil {
			k.put(es)
			continue
		}
		if done, err := k.step(); err != nil {
			return nil, fmt.Errorf("%s, seed %d: %w", k.out.Kind, k.Seed, err)
		} else if done {
			k.out.Walked = k.Walked
			return &k.out, nil
		}
	}
	return nil, fmt.Errorf("%s, seed %d: the walk has no end; it stands at %s", k.out.Kind, k.Seed, k.State.Cursor.Step)
}

// usual are limits that a sound record may miss as well: what is said beside them is done, or it is accepted by its number.
var usual = []string{"seated", "rescue.step"}

// sees notes what did not pass; from then on the person does it rightly, and goes back to where the mistake was made.
func (k *later) sees(id fold.StepID) []jobs.Event {
	ss, _ := k.State.Step(id)
	first, odd := !k.out.Mended && k.out.Wrong.Name != "" && k.out.Wrong.Comes != Lasts, false
	for _, c := range ss.Outcome.Checks {
		if c.Verdict.OK() {
			continue
		}
		if slices.Contains(k.accepts, c.Limit.ID) {
			es, err := k.State.Waive(c.Limit.ID, c.Shown(), "the seam lies where nobody looks")
			if err == nil {
				return es
			}
		}
		if slices.Contains(usual, c.Limit.ID) {
			continue
		}
		odd = true
		if !slices.Contains(k.out.Seen, c.Limit.ID) {
			k.out.Seen = append(k.out.Seen, c.Limit.ID)
			k.out.Said = append(k.out.Said, c.Words)
		}
	}
	for _, a := range ss.Outcome.Next {
		if a.Words != "" {
			k.out.Said = append(k.out.Said, a.Words)
		}
		if k.acts != nil {
			k.acts(a)
		}
	}
	if first && odd {
		k.out.Mended = true
		for _, at := range k.out.Wrong.At {
			if at != id {
				k.redo = append(k.redo, at)
			}
		}
	}
	return nil
}

// over opens the next step that is done over, when the one in hand is behind.
func (k *later) over() []jobs.Event {
	if len(k.redo) == 0 || k.State.Cursor.Step == k.doing {
		return nil
	}
	k.doing, k.redo = k.redo[0], k.redo[1:]
	es, err := k.State.Reopen(k.doing)
	if err != nil { // it was not yet read
		return nil
	}
	return es
}

// wrong says that a mistake is made now.
func (k *later) wrong(name string) bool { return k.out.Wrong.Name == name && !k.out.Mended }

package fold

import (
	"maps"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"

	"fliptrue/jobs"
)

// How much a walk reads is chosen when the setup is begun and stands in its begin: a card whose
// history grows later changes no replay, and what a comparison was begun with it is ended with.
// A record without it reads all that its walk asks.

// Level says how much is read. What can hurt somebody is asked in every one.
type Level int

const (
	Full          Level = iota // a record begun without a level
	Proven                     // fixture and programs have made good parts, and there are spare blanks
	FirstUse                   // a new fixture, a new program, or after a repair
	Irreplaceable              // one blank in the world
)

// Levels are those that a walk can be begun with, from the least read to the most.
var Levels = []Level{Proven, FirstUse, Irreplaceable}

var levelNames = [...]string{Full: "full", Proven: "proven", FirstUse: "first use", Irreplaceable: "irreplaceable"}

func (l Level) String() string { return levelNames[l] }

// LevelOf is the level of that name, as String gives it; case and space do not count.
func LevelOf(name string) (Level, bool) {
	for _, l := range Levels {
		if strings.EqualFold(strings.TrimSpace(name), l.String()) {
			return l, true
		}
	}
	return Full, false
}

// Where a begin says it, among the cards: the level, and where the person takes a lower one than what
// was chosen by the table, that one and why.
const (
	levelCard    = "level"
	levelChosen  = "level.chosen"
	levelBecause = "level.because"
)

// At is a begin at a level; at Full it is the begin itself.
func (l Level) At(begin jobs.Event) jobs.Event {
	if l == Full {
		return begin
	}
	return withCards(begin, map[string]string{levelCard: strconv.Itoa(int(l))})
}

// Below is a begin at a lower level than the one chosen, with the reason: it stands as a waiver.
func (l Level) Below(chosen Level, reason string, begin jobs.Event) jobs.Event {
	return withCards(l.At(begin), map[string]string{levelChosen: strconv.Itoa(int(chosen)), levelBecause: reason})
}

func withCards(e jobs.Event, more map[string]string) jobs.Event {
	cards := maps.Clone(e.Cards)
	if cards == nil {
		cards = map[string]string{}
	}
	maps.Copy(cards, more)
	e.Cards = cards
	return e
}

// lowered is the waiver by which the setup reads less than the table chose, nil where it does not.
func (st *State) lowered(s *setupLog) *Standing {
	chosen := Level(0)
	if n, err := strconv.Atoi(s.cards[levelChosen]); err == nil && n <= int(Irreplaceable) {
		chosen = Level(n)
	}
	if s.level == Full || s.level >= chosen {
		return nil
	}
	w := &Standing{Limit: "level", Number: s.level.String(), Reason: s.cards[levelBecause] + " (chosen was " + chosen.String() + ")",
		At: s.beganAt}
	if len(st.plan.Line) > 0 {
		w.Step = st.plan.Line[0].ID
	}
	return w
}

// levelIn is the level that a begin speaks of; what names none is Full.
func levelIn(cards map[string]string) Level {
	n, err := strconv.Atoi(strings.TrimSpace(cards[levelCard]))
	if err != nil || n < int(Proven) || n > int(Irreplaceable) {
		return Full
	}
	return Level(n)
}

// Worth is what a field is asked for: the least level that asks it, what it costs and what it catches.
// A row of a kind's table names one field, or several by a pattern as path.Match takes it.
type Worth struct {
	Field   string `json:"-"`
	From    Level
	Walk    int     `json:"-"` // it holds from that walk on, in place of the row of the same field; 0 always
	Acts    bool    `json:"-"` // below that level its acts are done all the same, before the next field
	Gate    bool    `json:"-"` // it keeps what can hurt somebody away: never traded for time, asked at every level
	With    string  `json:"-"` // rows of one name are worth something only together
	Minutes float64 `json:"-"`
	// Catches are the mistakes that it finds, each with the size from which on it does; what sizes mean is the mistake's own.
	Catches map[string]float64 `json:"-"`
}

// Anyway is the level of an ask that the step itself wants whatever the table says, since nothing else
// gives here what it gives.
const Anyway Level = -1

// worthOf is the row of a field: that of its very name, else of the longest pattern; what the table does not
// name every level asks.
func worthOf(rows []Worth, a Ask) Worth {
	best, found := -1, a.Worth
	for _, w := range rows { // those of a later walk stand behind
		if ok, err := path.Match(w.Field, a.Field); err == nil && ok && len(w.Field) >= best {
			best, found = len(w.Field), w
		}
		if w.Field == a.Field {
			best, found = math.MaxInt, w
		}
	}
	if a.From == Anyway {
		found.From = Full
	}
	return found
}

// Misses are the mistakes that some field of the kind catches, and none that is read at the level, in the
// order of the table.
func (k *Kind) Misses(l Level) []string {
	var out []string
	caught := map[string]bool{}
	all := k.rows(as{level: l})
	for _, w := range all {
		if l == Full || w.From <= l {
			for c := range w.Catches {
				caught[c] = true
			}
		}
	}
	for _, w := range all {
		for _, c := range slices.Sorted(maps.Keys(w.Catches)) {
			if !caught[c] {
				caught[c] = true
				out = append(out, c)
			}
		}
	}
	return out
}

// Misses are in words the mistakes that a walk of the most readings would find in this setup and this one does not: only steps
// that its hold-down plan walks see anything.
func (p *Plan) Misses() []string {
	if p.level == Full {
		return nil
	}
	return Once(p, missed{}, p.misses)
}

type missed struct{} // keys Misses

func (p *Plan) misses() (out []string) {
	seen := map[string]bool{}
	for _, m := range p.catches() {
		seen[m] = true
	}
	for _, m := range p.AtLevel(Irreplaceable).catches() {
		if words := p.kind.Called[m]; words != "" && !seen[m] {
			out = append(out, words)
		}
		seen[m] = true
	}
	return out
}

// Claims are the mistakes that the plan's own steps are said to see at its level, each with the size from which one of them does.
func (p *Plan) Claims() map[string]float64 {
	out := map[string]float64{}
	for _, sp := range slices.Concat(p.Line, p.Off) {
		for _, w := range p.rows(p.kind.Reads[sp.ID]) {
			if !p.Reads(w.From) {
				continue
			}
			for m, from := range w.Catches {
				if was, ok := out[m]; !ok || from < was {
					out[m] = from
				}
			}
		}
	}
	return out
}

// catches are the mistakes that the plan's own steps see at its level, in the order of the table.
func (p *Plan) catches() (out []string) {
	for _, sp := range slices.Concat(p.Line, p.Off) {
		for _, w := range p.rows(p.kind.Reads[sp.ID]) {
			if p.Reads(w.From) {
				out = append(out, slices.Sorted(maps.Keys(w.Catches))...)
			}
		}
	}
	return out
}

// Misses are those of the plan by which the record was walked.
func (st *State) Misses() []string { return st.plan.Misses() }

// rows are all rows of the kind's table for a walk, in walk order.
func (k *Kind) rows(a as) []Worth {
	var out []Worth
	for _, at := range append(append([]Place{}, k.Line...), k.Off...) {
		out = append(out, a.rows(k.Reads[at.ID])...)
	}
	return out
}

// rows leaves of a step's rows those that hold for the walk: of a later one none, and none that a later one replaces.
// Of two patterns the later walk's stands behind.
func (a as) rows(all []Worth) []Worth {
	var out []Worth
	for _, w := range all {
		if a.walk > 0 && w.Walk > a.walk {
			continue
		}
		same := func(x Worth) bool { return x.Field == w.Field }
		out = append(slices.DeleteFunc(out, same), w)
	}
	return out
}

// Level is how much the plan's walk reads.
func (p *Plan) Level() Level { return p.level }

// Reads says that the plan's walk reads what is read from that level on. Full reads what
// Irreplaceable does, and Full alone what no level reads (see Past).
func (p *Plan) Reads(from Level) bool { return p.level == Full || p.level >= from }

// Short says that the plan's walk is at a level and asks by the fourth walk: nothing twice that was just answered.
func (p *Plan) Short() bool { return p.level != Full && p.Walks(4) }

// Past is the level of what only a record without a level reads.
const Past = Irreplaceable + 1

// AtLevel is the same plan, walked at a level.
func (p *Plan) AtLevel(l Level) *Plan {
	if l == p.level {
		return p
	}
	q, err := newPlan(p.house, p.Job, p.Setup.Name, p.Files, as{p.walk, l, p.spare})
	if err != nil {
		panic("steps: a plan that was made can't be made again: " + err.Error())
	}
	q.posted, q.kin = p.posted, p.kin
	return q
}

// Without is the same plan, at a level, that leaves these fields out, "step/pattern" each: to see what they are worth.
func (p *Plan) Without(fields ...string) *Plan {
	if len(fields) == 0 {
		return p
	}
	q, err := newPlan(p.house, p.Job, p.Setup.Name, p.Files, as{p.walk, p.level, strings.Join(fields, " ")})
	if err != nil {
		panic("steps: a plan that was made can't be made again: " + err.Error())
	}
	q.posted, q.kin = p.posted, p.kin
	return q
}

// leaves are the rows of what a step leaves out by Without.
func (a as) leaves(id StepID) (out []Worth) {
	for _, f := range strings.Fields(a.spare) {
		if step, field, _ := strings.Cut(f, "/"); step == string(id) {
			out = append(out, Worth{Field: field, From: Past, Acts: true})
		}
	}
	return out
}

// spared says that a field is of a higher level than the record, and was not given all the same.
func (v View) spared(a Ask) bool { return a.From > Full && !v.Plan.Reads(a.From) && !v.Has(a.Field) }

// wanted leaves of a step's asks those that are to be given: see asked and untilFatal.
func (v View) wanted(all []Ask) []Ask {
	out, _, _ := v.untilFatal(v.asked(all))
	return out
}

// asked leaves of a step's asks those of this record: none of a later walk or of a higher level. Acts that
// are done all the same go to the ask that follows.
func (v View) asked(all []Ask) []Ask {
	if !slices.ContainsFunc(all, func(a Ask) bool { return v.later(a) || v.spared(a) }) {
		return all
	}
	var out []Ask
	var acts []Act
	for _, a := range all {
		switch {
		case v.later(a):
		case v.spared(a):
			if a.Acts {
				acts = append(acts, a.Do...)
			}
		default:
			if len(acts) > 0 {
				a.Do, acts = append(acts, a.Do...), nil
			}
			out = append(out, a)
		}
	}
	return out
}

package fold

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
	"time"

	"fliptrue/jobs"
)

// Log folds the events of one record. Apply is O(1); State decides what they mean.
type Log struct {
	house  *House
	n      Seq
	setups map[string]*setupLog
	faults []Trouble
	last   time.Time
	times  []time.Time // of every event, by place less one
	memo   map[*Round]memoed
	ahead  map[*Spec]memoed // of steps without a round
	pasts  map[pastKey]*resolver
	dirt   []touch // what was changed behind, see touchedBefore
}

// touch is an event that changed a round, which began at that place.
type touch struct{ Seq, First Seq }

// setupLog is what happened in one setup.
type setupLog struct {
	begun      Seq
	beganAt    time.Time
	by         string
	as                           // how it was begun
	cards      map[string]string // as it was begun, and replanned since
	key        string            // all of cards in one text, made when it is asked for
	rounds     map[StepID][]*Round
	happened   []Happened
	changes    []changed
	replans    []replan
	released   Seq
	releasedAt time.Time
	notes      []Note
	lastAt     time.Time
}

// Happened is a mishap declared, or raised by a step.
type Happened struct {
	Seq  Seq
	At   time.Time
	ID   MishapID
	Tool string
	By   StepID // the step that raised it, "" when declared
	From string // the other setup in which it was declared, "" for this one
}

// changed are job keys edited at a place.
type changed struct {
	Seq  Seq
	Keys []string
	told bool // it says the new values
}

// replan is a change of the cards, with those before it.
type replan struct {
	Seq    Seq
	before map[string]string
}

// Note is free text in the record.
type Note struct {
	Seq  Seq
	At   time.Time
	Text string
}

// Trouble is an event that can't be what it says. The record is refused with it.
type Trouble struct {
	Seq        Seq
	What, Hint string
}

func (t Trouble) Error() string { return fmt.Sprintf("event %d: %s; %s", t.Seq, t.What, t.Hint) }

// Log is an empty log of setups of this house.
func (h *House) Log() *Log { return newLog(h) }

func newLog(h *House) *Log {
	return &Log{house: h, setups: map[string]*setupLog{}, memo: map[*Round]memoed{}, ahead: map[*Spec]memoed{}, pasts: map[pastKey]*resolver{}}
}

// Len is the number of events applied.
func (l *Log) Len() int { return int(l.n) }

// begin begins a setup, once.
func (l *Log) begin(e jobs.Event) bool {
	if _, ok := l.setups[e.Begin]; ok {
		l.trouble("setup %q is begun twice", "start a new record for the next part", e.Begin)
		return false
	}
	l.setups[e.Begin] = &setupLog{begun: l.n, beganAt: e.At, lastAt: e.At, by: e.By, as: as{walk: walkOf(e.Cards), level: levelIn(e.Cards)},
		cards: e.Cards, rounds: map[StepID][]*Round{}}
	return true
}

// round opens a round, the next one of its step; false is one out of turn.
func (l *Log) round(e jobs.Event) bool {
	s, a, ok := l.address(e.Round, 3)
	if !ok {
		return true
	}
	step := StepID(a[1])
	no, err := strconv.Atoi(a[2])
	if err != nil || no != len(s.rounds[step])+1 {
		l.trouble("round %q is not the next one", fmt.Sprintf("the next round of %s is %d", step, len(s.rounds[step])+1), e.Round)
		return false
	}
	s.rounds[step] = append(s.rounds[step], &Round{Step: step, No: no, Opened: l.n, at: map[string]int{}})
	s.lastAt = e.At
	return true
}

// mishap notes one that a person may declare; false is any other.
func (l *Log) mishap(e jobs.Event) bool {
	s, a, ok := l.address(e.Mishap, 2)
	if !ok {
		return true
	}
	if m, known := l.house.Mishaps.Mishap(MishapID(a[1])); !known || m.Inner {
		l.trouble("mishap %q is not known", "known are: "+l.house.Mishaps.names(), a[1])
		return false
	}
	s.happened = append(s.happened, Happened{Seq: l.n, At: e.At, ID: MishapID(a[1]), Tool: e.Value})
	s.lastAt = e.At
	return true
}

// Apply adds one event. What can't be understood is kept as a Trouble and reported by State.
func (l *Log) Apply(e jobs.Event) {
	l.n++
	l.times = append(l.times, e.At)
	switch {
	case e.Begin != "":
		if !l.begin(e) {
			return
		}
	case e.Round != "":
		if !l.round(e) {
			return
		}
	case e.Read != "" || e.Answer != "":
		addr := e.Read + e.Answer
		if s, a, ok := l.address(addr, 4); ok {
			if r := l.open(s, a, addr); r != nil {
				r.take(a[3], e.Value, e.By, l.n, e.At)
				l.touch(r.First)
				s.lastAt = e.At
			}
		}
	case e.Waive != "":
		if s, a, ok := l.address(e.Waive, 4); ok {
			if r := l.open(s, a, e.Waive); r != nil {
				r.Waivers = append(r.Waivers, Waiver{Seq: l.n, Limit: a[3], Number: e.Value, Reason: e.Reason, At: e.At})
				l.touch(r.First)
			}
		}
	case e.Mishap != "":
		if !l.mishap(e) {
			return
		}
	case e.Plan != "":
		for _, name := range l.names() {
			s := l.setups[name]
			s.changes = append(s.changes, changed{Seq: l.n, Keys: e.Changed, told: len(e.Cards) > 0})
			s.replan(l.n, e)
		}
		l.touch(0)
	case e.Release != "":
		if s, _, ok := l.address(e.Release, 1); ok {
			s.released, s.releasedAt, s.lastAt = l.n, e.At, e.At
		}
	case e.Note != "":
		for _, name := range l.names() {
			l.setups[name].notes = append(l.setups[name].notes, Note{Seq: l.n, At: e.At, Text: e.Note})
		}
	default:
		l.trouble("event has no verb%s", "write one of begin, round, read, answer, waive, mishap, plan, note, release", "")
	}
	l.last = e.At
}

// touch notes that this event changed a round that began at a place, or what all are judged by (0).
func (l *Log) touch(first Seq) { l.touchAt(touch{l.n, first}) }

func (l *Log) touchAt(w touch) {
	n := len(l.dirt)
	for n > 0 && l.dirt[n-1].First >= w.First {
		n-- // an older event that reached no further back
	}
	l.dirt = append(l.dirt[:n], w)
}

// touchedBefore says that since an event something was changed on which a round that began at a
// place can rest: that round, or one that began before it. A round is judged by the record up
// to its first reading alone, so nothing else is of any account.
func (l *Log) touchedBefore(first, since Seq) bool {
	i := sort.Search(len(l.dirt), func(i int) bool { return l.dirt[i].Seq > since })
	return i < len(l.dirt) && l.dirt[i].First <= first
}

// replan applies what a plan event says to the cards: a changed key without a new value is gone.
func (s *setupLog) replan(at Seq, e jobs.Event) {
	if len(e.Cards) == 0 && len(e.Changed) == 0 {
		return
	}
	cards := s.cards
	if cards == nil {
		cards = map[string]string{}
	}
	now := jobs.Update(cards, e)
	if cards["job.hash"] == "" {
		delete(now, "job.hash") // it began without its job
	}
	s.replans = append(s.replans, replan{at, s.cards})
	s.cards, s.key = now, ""
}

// names are the begun setups in order of their beginning.
func (l *Log) names() []string {
	var out []string
	for n := range l.setups {
		out = append(out, n)
	}
	for i := range out {
		for j := i + 1; j < len(out); j++ {
			if l.setups[out[j]].begun < l.setups[out[i]].begun {
				out[i], out[j] = out[j], out[i]
			}
		}
	}
	return out
}

// address splits setup/step/round/field and finds the setup.
func (l *Log) address(addr string, parts int) (*setupLog, [4]string, bool) {
	var a [4]string
	rest := addr
	for i := 0; i < parts; i++ {
		if i == parts-1 {
			a[i] = rest
			break
		}
		j := strings.IndexByte(rest, '/')
		if j < 0 {
			l.trouble("address %q is too short", fmt.Sprintf("it wants %d parts: setup/step/round/field", parts), addr)
			return nil, a, false
		}
		a[i], rest = rest[:j], rest[j+1:]
	}
	s, ok := l.setups[a[0]]
	if !ok {
		l.trouble("setup of %q is not begun", "put begin: "+a[0]+" before it", addr)
		return nil, a, false
	}
	return s, a, true
}

// open finds the round of an address, ready to be changed.
func (l *Log) open(s *setupLog, a [4]string, addr string) *Round {
	rs := s.rounds[StepID(a[1])]
	no, err := strconv.Atoi(a[2])
	if err != nil || no < 1 || no > len(rs) {
		l.trouble("round of %q was never opened", fmt.Sprintf("put round: %s/%s/%d before it", a[0], a[1], len(rs)+1), addr)
		return nil
	}
	if no != len(rs) {
		l.trouble("round of %q is closed: a later round was opened", fmt.Sprintf("readings now go to round %d", len(rs)), addr)
		return nil
	}
	r := rs[no-1]
	if r.shared {
		delete(l.memo, r) // never asked for again
		r = r.clone()
		rs[no-1] = r
	}
	return r
}

func (l *Log) trouble(what, hint, arg string) {
	l.faults = append(l.faults, Trouble{Seq: l.n, What: fmt.Sprintf(what, arg), Hint: hint})
}

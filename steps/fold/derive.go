package fold

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"fliptrue/jobs"
)

// A setup may go on from another one that was broken off: it stands in no job file, its name says from which
// (jobs.Derived), and what it looks at AsLeft is what stood there when it was begun, void or not.

// asLeft is a fact as the setups before left it: the newest of the same kind that goes on from the same one, else that one.
func (x *resolver) asLeft(f FactID) (Known, bool) {
	from := x.p.Setup.From
	if from == "" {
		return Known{}, false
	}
	for _, name := range slices.Backward(x.lg.names()) {
		s := x.lg.setups[name]
		if s == x.s || s.begun >= x.s.begun {
			continue
		}
		if d, ok := x.p.Job.Setup(name); !ok || name != from && (d.From != from || d.Kind != x.p.Setup.Kind) {
			continue
		}
		if o := x.sibling(name); o != nil {
			if v, ok := o.version(f, x.s.begun); ok {
				return v.fact, true
			}
		}
	}
	return Known{}, false
}

// Stands is a fact that stands, or of a setup that goes on from another one that it does not make itself and looks at, as that one left it.
func (st *State) Stands(id FactID) (Known, bool) {
	if f, ok := st.Fact(id); ok {
		return f, true
	}
	f, ok := st.left[id]
	return f, ok
}

// leftOver are the facts that the setup looks at and does not make, as they were left.
func (x *resolver) leftOver() map[FactID]Known {
	out := map[FactID]Known{}
	for _, sp := range x.p.Line {
		for _, f := range sp.left {
			if len(x.p.makers[f]) > 0 {
				continue
			}
			if k, ok := x.asLeft(f); ok {
				out[f] = k
			}
		}
	}
	return out
}

// lies is the kind that says how the part lies and is held: of a setup that goes on from another one that one's.
func (p *Plan) lies() *Kind {
	if p.Setup.From != "" && p.house != nil {
		if s, ok := p.Job.Setup(p.Setup.From); ok {
			if k, ok := p.house.Kind(s.Kind); ok {
				return k
			}
		}
	}
	return p.kind
}

// opens says that a mishap opens a setup where this one was broken off.
func (p *Plan) opens(m *Mishap) bool {
	_, known := p.house.Kind(m.Opens)
	return known && p.Setup.Second()
}

// Opens is the kind of setup that goes on where a mishap broke the plan's off, and the name that it is begun by; ok is
// false where the mishap opens none here.
func (l *Log) Opens(p *Plan, id MishapID) (name string, ok bool) {
	m, known := p.Mishap(id)
	if !known || !p.opens(m) {
		return "", false
	}
	from := p.Setup.From
	if from == "" {
		from = p.Setup.Name
	}
	for n := 1; ; n++ {
		name = jobs.Derived(from, m.Opens, n)
		if _, begun := l.setups[name]; !begun {
			_, ok = p.Job.Setup(name)
			return name, ok
		}
	}
}

// Open gives the events that declare a mishap in the plan's setup and begin the one that it opens, which carries the
// job and cards as they are there.
func (l *Log) Open(p *Plan, id MishapID, by string) (es []jobs.Event, name string, ok bool) {
	name, ok = l.Opens(p, id)
	s, begun := l.setups[p.Setup.Name]
	if !ok || !begun {
		return nil, "", false
	}
	cards := map[string]string{}
	maps.Copy(cards, s.cards)
	maps.DeleteFunc(cards, func(k, _ string) bool { return strings.HasPrefix(k, takenPrefix) })
	delete(cards, levelChosen)
	delete(cards, levelBecause)
	if delete(cards, levelCard); s.level != Full { // whatever it was begun at: this part is not made twice
		maps.Copy(cards, map[string]string{levelCard: strconv.Itoa(int(Irreplaceable))})
	}
	begin := Begin(name, cards, by)
	return []jobs.Event{{Mishap: p.Setup.Name + "/" + string(id)}, begin}, name, true
}

// Derive is the plan of a setup that goes on from the plan's, by its name, with the same programs beside it.
func (p *Plan) Derive(name string) (*Plan, error) {
	q, err := newPlan(p.house, p.Job, name, p.Files, as{walk: p.walk, level: p.level})
	if err != nil {
		return nil, err
	}
	q.kin = p.kin
	return q, nil
}

// Begun are the setups of the record in the order of their beginning.
func (l *Log) Begun() []string { return l.names() }

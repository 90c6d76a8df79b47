package steps

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"fliptrue/calc/frame"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// SetupLook is one setup of a job as it stands in a record, and what it wants of the others.
type SetupLook struct {
	Name, Kind string
	Order      int    // from 1: machine and ball first, then side 1, then side 2
	State      string // "not begun", "open", "ready", "released", "taken back"
	Needs      []Need
	Open       []string    // what should be settled before the setup's first irreversible step, in words
	Step       fold.StepID // where it stands, "" when nothing is asked
	Left       int         // steps still to do
	GoesOn     string      // the setup that went on from it where it was broken off, "" for none
	Problem    string      // why the setup can't be planned, "" when it can
}

// Need is one thing that a setup takes from elsewhere.
type Need struct {
	Fact fold.FactID
	From string // setup that hands it over; "job", "machine card"; "" when nothing does
	Here bool   // it is there and stands
	Void string // why it does not stand
}

// Words name what is needed.
func (n Need) Words() string {
	if w := needWords[string(n.Fact)]; w != "" {
		return w
	}
	return string(n.Fact)
}

// kindOrder is the order in which setups are walked.
var kindOrder = map[string]int{kit.TramKind: 1, kit.BallKind: 2, kit.FirstSide: 3, kit.SecondSide: 4, kit.Rescue: 4, kit.Inspect: 5,
	kit.Making: 0, kit.Reuse: 3}

// turn is the place of a setup among those of its job; one that has none comes last.
func turn(s *jobs.Setup) int {
	if s != nil && s.Second() {
		return kindOrder[kit.SecondSide]
	}
	if s != nil {
		if n, ok := kindOrder[s.Kind]; ok {
			return n
		}
	}
	return noTurn
}

const noTurn = 100

var needWords = map[string]string{"ball": "the ball's calibration", "tram": "the spindle's tram",
	"part/thickness": "thickness as it goes in", "part/width-x": "width along X", "part/width-y": "width along Y",
	"part/air": "the shop's air at side 1", "part/seat": "the face that it rests on", "part/edges": "which edges side 1 was picked up from",
	"part/holes": "holes for its screws", "part/spring": "how far the wall sprang", "part/hours": "hours between the sides"}

// Outlook says for every setup of the job in which order they are walked, what each takes
// from the others and whether that is there, and what is open before its irreversible
// points. log may be nil: then nothing is begun. It is pure.
func Outlook(j *jobs.Job, log *fold.Log) []SetupLook {
	if log == nil {
		log = NewLog()
	}
	var out []SetupLook
	all := slices.Clone(j.Setups)
	goesOn := map[string]string{}
	for _, name := range log.Begun() {
		if s, ok := j.Setup(name); ok && s.From != "" {
			all = append(all, *s)
			goesOn[s.From] = name
		}
	}
	for name, last := range goesOn { // of several the newest
		for _, s := range all {
			if s.From == name && s.Name != last {
				goesOn[s.Name] = last
			}
		}
	}
	for _, s := range all {
		l := SetupLook{Name: s.Name, Kind: s.Kind, State: "not begun", GoesOn: goesOn[s.Name]}
		p, err := NewPlan(j, s.Name, nil)
		if err != nil {
			l.Problem = err.Error()
			out = append(out, l)
			continue
		}
		st := log.State(p)
		l.state(&st)
		l.needs(p, log, &st)
		l.open(p, &st)
		out = append(out, l)
	}
	order := func(l SetupLook) int {
		s, _ := j.Setup(l.Name)
		return turn(s)
	}
	sort.SliceStable(out, func(a, b int) bool { return order(out[a]) < order(out[b]) })
	for i := range out {
		out[i].Order = i + 1
	}
	return out
}

func (l *SetupLook) state(st *fold.State) {
	l.Left = len(st.Left)
	switch {
	case !st.Begun:
	case st.Released:
		l.State = "released"
	case st.TakenBack != nil:
		l.State, l.Step = "taken back", st.Cursor.Step
	case st.Ready:
		l.State = "ready"
	default:
		l.State, l.Step = "open", st.Cursor.Step
	}
}

// needs lists what the plan's steps look for and other setups or the cards bring.
func (l *SetupLook) needs(p *fold.Plan, log *fold.Log, st *fold.State) {
	wanted := p.Handed()
	for _, g := range p.Given() {
		if _, named := needWords[string(g.ID)]; named && !slices.Contains(wanted, g.ID) {
			wanted = append(wanted, g.ID)
		}
	}
	if p.Setup.Second() || p.Raw() {
		for _, f := range []fold.FactID{"tram", "ball"} {
			if !slices.Contains(wanted, f) && (f != "ball" || kit.ProbedBall(p)) {
				wanted = append(wanted, f)
			}
		}
	}
	if !p.Setup.Second() && !p.Raw() {
		return
	}
	for _, f := range wanted {
		if f == "part/holes" && p.Setup.HoldDown != "S" {
			continue
		}
		n := Need{Fact: f}
		if w := log.Whence(p, f); w.Here {
			n.Here, n.From = w.Void == nil, w.Setup
			if w.Card {
				n.From = "machine card"
				if f.Column() == "part" {
					n.From = "job"
				}
			}
			if w.Void != nil {
				n.Void = w.Void.Words
			}
		} else {
			for _, o := range p.Job.Setups {
				if p.Hands(o.Kind, f) && o.Name != l.Name {
					n.From = o.Name
				}
			}
		}
		l.Needs = append(l.Needs, n)
	}
}

// open names what should be settled before the first irreversible step.
func (l *SetupLook) open(p *fold.Plan, st *fold.State) {
	say := func(format string, args ...any) { l.Open = append(l.Open, fmt.Sprintf(format, args...)) }
	for _, n := range l.Needs {
		name := n.Words()
		switch {
		case n.Here:
		case n.Void != "":
			say("%s is void: %s", name, n.Void)
		case n.From != "":
			say("%s: not yet, %s brings it", name, n.From)
		case n.Fact == "ball":
			say("%s: not on the machine card", name)
		case n.Fact == "tram":
			say("%s: not known; said, never a block", name)
		}
	}
	if !p.Setup.Second() {
		return
	}
	switch p.Job.Posted {
	case "mirrored":
		say("the side-2 program is posted as mirrored: a mirror makes a mirror part; three places will be compared")
	case "by hand":
		say("the side-2 program was made by hand: three places will be compared with the part turned over")
	}
	for _, o := range p.Job.Setups {
		if o.Kind == kit.FirstSide && p.Setup.HoldDown == "S" && !o.HolesHere {
			say("hold-down S wants the holes from side 1, and %s does not drill them (holes-here)", o.Name)
		}
		if o.Kind == kit.FirstSide && p.Setup.HoldDown != "S" && o.HolesHere {
			say("%s drills the holes, and hold-down %s drills them again: S is meant", o.Name, p.Setup.HoldDown)
		}
		if o.Kind == kit.FirstSide && !p.Setup.Floating && !p.OnLocator() {
			l.edges(p, o)
		}
	}
}

// edges compares the walls of side 2 with the stock edges that side 1 is picked up from.
func (l *SetupLook) edges(p *fold.Plan, o jobs.Setup) {
	if o.Zero == "centre" {
		return
	}
	q := p.Other(o.Name)
	if q == nil {
		return
	}
	sx, sy := kit.Sides(q)
	f := kit.FlipOf(p, p.Setup)
	var apart []string
	for _, w := range p.Setup.Against {
		axis, side := "X", -1.0
		if w == "right" || w == "away" {
			side = 1
		}
		want := sx
		if w == "away" || w == "toward" {
			axis, want = "Y", sy
		}
		if (f.Axis == frame.AboutX) == (axis == "Y") { // turned about X, front and back change places
			side = -side
		}
		if side != want {
			apart = append(apart, axis)
		}
	}
	if len(apart) > 0 {
		l.Open = append(l.Open, fmt.Sprintf("along %s side 2 stands against the other edge than %s is picked up from: the width that side 1 "+
			"leaves counts", strings.Join(apart, " and "), o.Name))
	}
}

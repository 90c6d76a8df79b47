package prove

import (
	"maps"
	"slices"
	"strings"

	"fliptrue/steps"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// StateText is all that a State says, as text: see Text.
func StateText(st *fold.State) Text {
	p := &printer{b: make([]byte, 0, 32<<10)}
	p.line("setup").quote(st.Setup).key("events").seq(st.N).yes(st.Begun, "begun").time(st.BegunAt).time(st.LastAt).quote(st.By)
	p.line("stands").yes(st.Ready, "ready").yes(st.Released, "released").time(st.ReleasedAt)
	if st.TakenBack != nil {
		p.cause("  taken-back", st.TakenBack)
	}
	c := st.Cursor
	p.line("cursor").str(string(c.Step)).int(int64(c.Round)).yes(c.Open, "open").yes(c.Decide, "decide").yes(c.Idle, "idle").key("field").str(
		c.Field).key("form").strs(c.Form)
	ids(p.line("left"), st.Left)
	for _, w := range st.Way {
		ids(p.line("way").str(string(w.Step)).int(int64(w.Readings)), w.Brings)
		p.words("title", w.Title)
	}
	p.ledger(st)
	facts := slices.Clone(st.Facts)
	slices.SortStableFunc(facts, func(a, b fold.Known) int { return strings.Compare(string(a.ID), string(b.ID)) })
	for i := range facts {
		p.fact("fact", &facts[i])
	}
	for i := range st.Steps {
		p.step(&st.Steps[i])
	}
	pg := st.Page()
	p.page(&pg)
	p.register(st)
	return append(p.b, '\n')
}

// ledger is what happened, was waived, noted, refused or not used.
func (p *printer) ledger(st *fold.State) {
	for _, h := range st.Mishaps {
		p.line("mishap").seq(h.Seq).time(h.At).str(string(h.ID)).quote(h.Tool).str(string(h.By))
	}
	for _, w := range st.Waivers {
		p.line("waiver").str(string(w.Step)).str(w.Limit).quote(w.Number).quote(w.Reason).time(w.At)
	}
	for _, n := range st.Notes {
		p.line("note").seq(n.Seq).time(n.At).quote(n.Text)
	}
	for _, t := range st.Troubles {
		p.line("trouble").seq(t.Seq)
		p.words("what", t.What)
		p.words("hint", t.Hint)
	}
	for _, s := range st.Strays {
		p.line("stray").seq(s.Seq)
		p.words("what", s.What)
	}
	// What the third walk asks anew is no change of what a record of the first two means.
	then := *st
	then.Unasked = slices.DeleteFunc(slices.Clone(st.Unasked), func(u string) bool { return slices.Contains(kit.OfWalk3, u) })
	for _, u := range then.Unasked {
		p.line("unasked")
		p.words("what", u)
	}
	p.words("earlier", then.Earlier())
}

func (p *printer) cause(head string, c *fold.Cause) {
	cell := "."
	if c.Cell != 0 {
		cell = string(rune(c.Cell))
	}
	p.line(head).seq(c.Seq).str(string(c.Fact)).key("mishap").str(string(c.Mishap)).str(cell)
	p.words("cause", c.Words)
}

func (p *printer) fact(head string, f *fold.Known) {
	p.line(head).str(string(f.ID)).key("by").str(string(f.By)).seq(f.First).seq(f.Last).key("dof").num(f.Dof).key("value").num(f.Value...)
	for _, row := range f.Cov {
		p.line("  cov").num(row...)
	}
	if f.Void != nil {
		p.cause("  void", f.Void)
	}
}

func (p *printer) step(s *fold.StepState) {
	p.line("step").str(string(s.ID)).yes(s.Off, "off").yes(s.Needed, "needed").key("verdict").quote(s.Verdict.String())
	p.words("title", s.Title)
	if s.Cause != nil {
		p.cause("  cause", s.Cause)
	}
	if s.Round != nil {
		p.line("  newest").int(int64(s.Round.No))
	}
	for _, r := range s.Rounds {
		p.round(r)
	}
	if s.Pause != nil {
		p.line("  pause").yes(s.Pause.Ask != nil, "asks").yes(s.Pause.Again != nil, "again")
		p.words("heading", s.Pause.Heading)
		p.words("lost", s.Pause.Lost)
	}
	for i := range s.Asks {
		p.ask(&s.Asks[i])
	}
	p.outcome(&s.Outcome)
}

func (p *printer) round(r *fold.Round) {
	p.line("  round").str(string(r.Step)).int(int64(r.No)).seq(r.Opened).seq(r.First).seq(r.Last)
	for _, t := range r.Taken {
		p.line("    taken").str(t.Field).quote(t.Value).quote(t.By).seq(t.Seq).seq(t.Since).time(t.At).key("before").strs(t.Before)
	}
	for _, w := range r.Waivers {
		p.line("    waived").seq(w.Seq).str(w.Limit).quote(w.Number).quote(w.Reason).time(w.At)
	}
}

var askKinds = map[fold.AskKind]string{fold.Reading: "reading", fold.Count: "count", fold.Choice: "choice", fold.Text: "text",
	fold.Echo: "echo"}

func (p *printer) ask(a *fold.Ask) {
	p.line("  ask").str(a.Field).str(askKinds[a.Kind]).quote(a.What.By).quote(a.What.Of).quote(a.What.Dir).quote(a.What.Axis)
	p.str(a.Unit.String()).quote(a.Bare).key("form").str(a.Form).yes(a.Blind, "blind").yes(a.Optional, "optional").key("since").int(
		int64(a.Since.Walk))
	p.key("options").strs(a.Options).key("want").quote(a.Want)
	p.words("label", a.Label)
	p.words("since", a.Since.What)
	p.words("want", a.WantWhy)
	p.words("hint", a.Hint)
	if w := a.Window; w != nil {
		p.line("    window").num(w.Want, w.Half, w.Least)
		s := w.Slips
		p.key("slips").str(s.Kind.String()).str(s.System.String()).num(s.Step).quote(s.Text).num(s.TipRadius, s.RefLength, s.Offset, s.DialTurn)
		if s.Other != nil {
			p.key("other").num(*s.Other)
		}
		p.key("earlier").num(s.Earlier...)
		p.words("nearer", w.Nearer)
		p.words("why", w.Why)
	}
	for _, d := range a.Do {
		p.act("    do", d)
	}
}

func (p *printer) act(head string, a fold.Act) {
	p.line(head).quote(a.Do).quote(a.Of).quote(a.Dir).num(a.Amount)
	p.words("act", a.Words)
}

func (p *printer) outcome(o *fold.Outcome) {
	for i := range o.Facts {
		p.fact("  makes", &o.Facts[i])
	}
	if len(o.Leaves) > 0 {
		ids(p.line("  leaves"), o.Leaves)
	}
	for _, c := range o.Checks {
		l := c.Limit
		p.line("  check").str(l.ID).quote(c.Verdict.String()).num(c.Got, c.Guard).key("max").num(l.Max).yes(l.Min, "least").str(l.Class.String())
		p.str(l.Unit.String()).str(l.System.String()).yes(c.Count, "count").key("on").str(c.On).key("shown").quote(c.Shown()).quote(l.Shown())
		p.words("largest", c.Largest)
		p.words("limit", l.Why)
		p.words("check", c.Words)
	}
	for _, a := range o.Next {
		p.act("  next", a)
	}
	if o.Named != "" {
		p.line("  named").str(o.Named)
	}
	p.words("learned", o.Learned)
	for _, n := range o.Notes {
		p.words("note", n)
	}
	p.rows("  line", o.Lines)
}

func (p *printer) rows(head string, rows []fold.Row) {
	for _, r := range rows {
		p.line(head).num(r.Value).str(r.Unit.String()).num(r.Guard).yes(r.Big, "big").yes(r.Signed, "signed").quote(r.Verdict.String()).num(r.Bar)
		p.words("row", r.Label)
		p.words("text", r.Text)
	}
}

func (p *printer) page(g *fold.Page) {
	p.line("page")
	for _, w := range [][2]string{{"act", g.Act}, {"why", g.Why}, {"read", g.Read}, {"caution", g.Caution}, {"after", g.After},
		{"hands", g.Hands}, {"reached", g.Reached}} {
		p.words(w[0], w[1])
	}
	p.rows("  row", g.Rows)
	p.scene(&g.Scene)
}

var roles = map[fold.Role]string{fold.RoleFixture: "fixture", fold.RolePocket: "pocket", fold.RolePart: "part", fold.RoleBore: "bore",
	fold.RoleEdge: "edge",
	fold.RoleHit:  "hit", fold.RoleNext: "next", fold.RoleHole: "hole", fold.RoleClamp: "clamp", fold.RoleScrew: "screw",
	fold.RoleFeature: "feature",
	fold.RoleSupport: "support", fold.RoleJaw: "jaw", fold.RolePath: "path", fold.RoleConflict: "conflict", fold.RoleTap: "tap",
	fold.RolePush: "push", fold.RoleSweep: "sweep"}

func (p *printer) scene(s *fold.Scene) {
	for _, h := range s.Shapes {
		p.line("  shape").str(roles[h.Role]).yes(h.Closed, "closed").num(h.Radius).quote(h.Verdict.String())
		for _, q := range h.Points {
			p.num(q.X, q.Y)
		}
		p.words("name", h.Name)
	}
	if r := s.Run; r != nil {
		p.line("  run").int(int64(r.Suspect)).str(r.TapEnd).str(r.TapDir).num(r.Tap).key("at").num(r.At...).key("reading").num(r.Reading...).key(
			"fitted").num(r.Fitted...)
	}
	if r := s.Ring; r != nil {
		p.line("  ring").int(int64(r.Suspect)).key("angle").num(r.Angle...).key("residual").num(r.Residual...)
	}
	if t := s.Tilt; t != nil {
		p.line("  tilt").int(int64(t.Suspect)).num(t.TiltX, t.TiltY).key("residual").num(t.Residual...).key("points")
		for _, q := range t.Points {
			p.num(q.X, q.Y)
		}
	}
	for _, c := range s.Clocks {
		p.line("  clock").str(roles[c.Role]).num(c.Share)
		p.words("name", c.Name)
		p.words("text", c.Text)
	}
	if m := s.Moves; m != nil {
		p.line("  moves").num(m.Limit)
		for i, q := range m.At {
			p.num(q.X, q.Y, m.By[i].X, m.By[i].Y)
		}
	}
	p.rows("  bar", s.Bars)
}

// register is what the State says of the features, of its cards and of what the next part may take over.
func (p *printer) register(st *fold.State) {
	if !st.Begun {
		return
	}
	for _, f := range steps.Register(st) {
		p.line("feature").quote(f.Name).num(f.At.X, f.At.Y).key("error").num(f.Error[:]...).key("kink").num(f.Kink[:]...).
			key("u").num(f.U[:]...).key("guard").num(f.Guard[:]...).key("share").num(f.Share[:]...)
		for axis, lines := range f.Lines {
			for _, l := range lines {
				p.line("  budget").int(int64(axis)).int(int64(l.Shape)).num(l.Value, l.Dof, l.Coef).yes(l.Assumed, "assumed")
				p.words("name", l.Name)
				p.words("source", l.Source)
			}
			p.words("largest", f.Largest[axis])
		}
	}
	for _, w := range desk.CardChanges(*st) {
		p.line("card").quote(w.Key)
		for _, k := range slices.Sorted(maps.Keys(w.Set)) {
			p.str(k).quote(w.Set[k])
		}
		for _, k := range slices.Sorted(maps.Keys(w.Add)) {
			p.str(k).int(int64(w.Add[k]))
		}
	}
	if taken, err := st.Taken(); err == nil {
		for _, k := range slices.Sorted(maps.Keys(taken)) {
			p.line("hands").str(k) // its numbers stand under the facts; how they are written is the record's own
		}
	}
}

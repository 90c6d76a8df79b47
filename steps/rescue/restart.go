package rescue

import (
	"fmt"
	"slices"

	"fliptrue/calc/ncode"
	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// restart finds the line to begin at, and has its state set by hand before it. It computes; it sends nothing.
func restart(p *fold.Plan) *fold.Spec {
	s := restarting{p, checks.ReadsAt(p, desk.WhileCut)}
	return &fold.Spec{
		Title: "where to begin", Needs: fold.Needs(fold.Live("offset", "echo", facts.Screws.ID, facts.Stopped.ID),
			fold.IfThere(facts.Lost.ID), fold.AsLeft(append(checks.ProgramFacts(p), kit.LengthFacts(p)...)...), fold.IfThere("part/thickness")),
		Makes: []fold.FactID{facts.Restart.ID}, Asks: s.asks, Judge: s.judge, Page: s.page,
	}
}

type restarting struct {
	p     *fold.Plan
	reads *checks.Reads
}

const restartField = "begin"

// stopped is the program that was running, and where it stopped.
func (s restarting) stopped(v fold.View) (g jobs.Program, stop ncode.Stop, ok bool) {
	f, has := facts.Stopped.In(v)
	if k := int(f.Role); has && k >= 0 && k < len(s.p.Setup.Programs) {
		return s.p.Setup.Programs[k], ncode.Stop{Line: int(f.Line), Repeat: int(f.Repeat)}, true
	}
	return g, stop, false
}

// told is what the reader found of it, as the record has it; while nothing stands there, as the file is now.
func (s restarting) told(v fold.View) (desk.Restart, bool) {
	if r, ok := desk.ReadRestart(v.Text(restartField)); ok {
		return r, true
	}
	g, stop, ok := s.stopped(v)
	if !ok {
		return desk.Restart{}, false
	}
	return desk.RestartOf(s.p, v.Perhaps, g.Role, g.File, stop), true
}

func (s restarting) asks(v fold.View) []fold.Ask {
	g, stop, ok := s.stopped(v)
	var asks []fold.Ask
	if ok {
		asks = append(asks, fold.Ask{Field: restartField, Label: "the line to begin at in " + g.File, Kind: fold.Choice,
			Options: []string{"read it now"}, What: fold.What{By: fold.BySelf, Of: "program/" + g.Role, Dir: "restart"},
			Self: func() string { return desk.RestartOf(s.p, v.Perhaps, g.Role, g.File, stop).Written() }})
	}
	asks = append(asks, s.reads.Asks(v)...)
	r, ok := s.told(v)
	if !ok || r.Why != "" {
		return append(asks, wants("alone", "you set it up yourself, line by line, in air first", "program", "alone",
			"Nothing was told here of where to begin.", "Run the program from its top, in air."))
	}
	up := wants("up", "Z is all up, by machine coordinates", "spindle", "up", "X and Y move next, over the part.", "Z up first, alone.")
	up.Do = []fold.Act{{Do: "move", Of: "head", Words: "Z all up in machine coordinates: first, and alone."}}
	asks = append(asks, up)
	if !r.Top {
		typed := wants("typed", "all lines shown were typed, from top to bottom", "program", "typed", "A mode that is not set cuts another path.",
			"Type them again, all of them.")
		typed.Do = []fold.Act{{Do: "key", Of: "program", Dir: "typed", Words: "Type the lines shown, one by one. Hand on feed hold."}}
		asks = append(asks, typed)
	}
	line := fold.Ask{Field: "line", Label: "line at which the control will begin", Kind: fold.Count,
		What: fold.What{By: "control", Of: "program", Dir: "begin"}, Want: fmt.Sprint(r.Line),
		WantWhy: "From another line on it meets stock that it was not written for, or moves low.", Hint: fmt.Sprintf("Set it to line %d: %s.",
			r.Line, r.Text)}
	if r.Line > 9999 { // longer than a count is
		line.Kind = fold.Text
	}
	low := wants("low", "feed AND rapid override at their lowest", "control", "override", "The first move shows whether the state is right.",
		"Turn both down, then answer.")
	low.Do = s.height(v, r)
	return append(asks, line, low)
}

// height is what is done where no length that was read here says how high the tool stands at the line.
func (s restarting) height(v fold.View, r desk.Restart) []fold.Act {
	f, _ := facts.Lost.In(v)
	words := ""
	switch {
	case f.Tool > 0:
		words = fmt.Sprintf("T%d is not as long as it was: measure it, key it in.", r.Tool)
	case r.Tool > 0 && lengthsShown(s.p) && !slices.ContainsFunc(kit.LengthFacts(s.p), func(id fold.FactID) bool {
		k, ok := v.Fact(id)
		return id == facts.Length.Of(fmt.Sprint(r.Tool)).ID && ok && len(k.Value) > 0
	}):
		words = fmt.Sprintf("No length of T%d was read here.", r.Tool)
	default:
		return nil
	}
	return []fold.Act{{Do: "look", Of: "tool", Words: words + " Single block: stop over the part, see the gap under the tip."}}
}

func (s restarting) judge(v fold.View) fold.Outcome {
	p := s.p
	var o fold.Outcome
	r, ok := s.told(v)
	if !ok || r.Why != "" {
		why := "no program was running"
		if ok {
			why = r.Why
		}
		o.Checks = append(o.Checks, judge.Unknown(fold.Limit{ID: "rescue.restart", Why: "the line to begin at", Class: fold.Soft},
			"Where to begin is not told: "+why+"."))
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "program", Words: "Run it from its top, in air, feed and rapid low; say so."})
		o.Facts = []fold.Known{facts.Restart.Is(facts.RestartFact{})}
		return o
	}
	s.reads.Pass(v, &o)
	for _, f := range []string{"up", "typed", "line", "low"} {
		if a, ok := find1(s.asks(v), f); ok && v.Has(f) && !fold.SameAnswer(v.Text(f), a.Want) {
			if f == "line" {
				o.Named = "wrong-line"
				a.Do = []fold.Act{{Do: "look", Of: "program", Words: fmt.Sprintf("Set the control to line %d, then look again.", r.Line)}}
			}
			o.Next = append(o.Next, append(append([]fold.Act{}, a.Do...), fold.Act{Do: "again", Of: f})...)
		}
	}
	if f, ok := facts.Stopped.In(v); ok && f.Wrote > 0 {
		o.Notes = append(o.Notes, fmt.Sprintf("Line %.0f was written down. By where the tool stood it may be line %.0f: it begins for that one.",
			f.Wrote, f.Line))
	}
	o.Lines = append(s.rows(r), o.Lines...)
	o.Facts = []fold.Known{facts.Restart.Is(facts.RestartFact{Line: float64(r.Line), Minutes: r.Minutes})}
	o.Learned = fmt.Sprintf("It begins at line %d and cuts %.1f min in air.", r.Line, r.Minutes)
	if left, ok := facts.Screws.Perhaps(v); ok && left.N < float64(len(p.Setup.Screws.At)) {
		o.Notes = append(o.Notes, "The program was held against the screws that are left, the worst of them gone.")
	}
	return o
}

func find1(asks []fold.Ask, field string) (fold.Ask, bool) {
	for _, a := range asks {
		if a.Field == field {
			return a, true
		}
	}
	return fold.Ask{}, false
}

// rows are the lines to type and what comes of them.
func (s restarting) rows(r desk.Restart) []fold.Row {
	rows := []fold.Row{{Label: "begin at line", Text: fmt.Sprintf("%d  %s", r.Line, r.Text), Big: true}}
	for i, t := range r.Typed {
		rows = append(rows, fold.Row{Label: fmt.Sprintf("type %d", i+1), Text: t})
	}
	return append(rows, fold.Row{Label: "cut in air", Text: fmt.Sprintf("%.2f min", r.Minutes)})
}

func (s restarting) page(v fold.View) fold.Page {
	pg := fold.Page{Why: "Nothing is skipped: what stands is cut by the passes that were written for it.",
		Act: "Z all up. Type the state, then begin at the line.", Read: "Lines of the file from its first. What the control shows.",
		Caution: "Hands out, door shut. Feed and rapid override at their lowest, hand on feed hold.", Scene: kit.Scene(s.p, v, nil)}
	if r, ok := s.told(v); ok && r.Why == "" {
		pg.Rows = s.rows(r)
		if f, ok := facts.Stopped.In(v); ok && f.Wrote > 0 {
			pg.Rows = append(pg.Rows, fold.Row{Label: "stopped", Text: fmt.Sprintf("line %.0f as written, line %.0f by X and Y", f.Wrote, f.Line)})
		}
	}
	return pg
}

package side2

import (
	"fmt"
	"slices"

	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// skimming is the first shallow cut: a look under the tip, an air pass with all raised, then the skim and its height.
type skimming struct {
	p      *fold.Plan
	load   kit.Load
	gap    checks.Gap
	gapped bool
	raises bool // the control has a page that raises all
	air    string
	raised fold.Ask
	cut    firstCut
}

func skimmingOf(p *fold.Plan, load kit.Load) *skimming {
	s := &skimming{p: p, load: load}
	// The straps are off; a preset control has no page that raises all.
	on := func(f fold.FactID) bool { return f != "clamps" }
	s.gap, s.gapped = checks.TipGap(p, p.Setup.Cut.Tool, false, on)
	s.raises = !checks.Presets(p)
	z, highest := desk.ClearHeight(p, on, kit.Thickness(p))
	how := "nothing below"
	if s.raises {
		how = "raise it all by the control's common Z shift or the tool's wear, its lowest cut over"
	}
	s.air = "Air pass, feed hold in hand: " + how + " W Z" + kit.Signed(p, z) + ", clear of " + highest + "."
	s.raised = fold.Ask{Field: "raised", Since: kit.SinceRaised, Label: "that Z shift or wear, after the air pass", Kind: fold.Echo,
		Unit: unit.KLength, Blind: true, What: fold.What{By: "eye", Of: "shift-page", Dir: "x", Axis: "z"},
		Do: []fold.Act{{Do: "look", Of: "shift-page", Words: "Hands out, door shut. " + s.air +
			" Then take the raise out again and read what stands on the control's page."}}}
	s.cut = firstCutOf(p, s.raises)
	return s
}

// cutterIn asks which tool is in the spindle, before anything is cut.
func (s *skimming) cutterIn() fold.Ask {
	tool := fmt.Sprint(s.p.Setup.Cut.Tool)
	a := fold.Ask{Label: "tool number in the spindle", Kind: fold.Count, What: fold.What{By: "eye", Of: "spindle", Dir: "tool"}, Want: tool,
		WantWhy: "Another tool cuts another depth; " + kit.Thrown(s.p) + ".", Hint: kit.FinderOut(s.p) + ". Fit " + kit.ToolName(s.p, tool) + "."}
	if s.p.Setup.Cut.Tool == 0 {
		a.Want, a.WantWhy, a.Hint = "", "", ""
	}
	in := kit.FinderOut(s.p) + ". " + checks.CutterName(s.p) + " in, its own length active."
	if !s.gapped && !s.raises { // nothing is asked before the skim
		in += " " + s.air
	}
	if a.Want != "" {
		a.Cure = []fold.Act{{Do: "remove", Of: "probe", Words: a.Hint}, {Do: "again", Of: "pause"}}
	}
	a.Do = []fold.Act{{Do: "remove", Of: "probe", Words: in}}
	return a
}

func (s *skimming) asks(v fold.View) []fold.Ask {
	asks := slices.Clone(s.load.Asks)
	first := ""
	var before []fold.Ask // that anything is cut
	if s.gapped {         // before any program moves it
		before = append(before, s.gap.Asks(v)...)
		if _, wrong := s.gap.Off(v); wrong {
			return before
		}
		if first = "Hands out, door shut. "; !s.raises {
			first += s.air + " "
		}
	}
	if s.raises {
		if before = append(before, s.cut.raised(v, s.raised, s.air)); v.Has(s.raised.Field) && !s.cut.rightly(v) {
			return before
		}
	}
	asks = append(before, asks...)
	words := "One shallow skim in a safe corner."
	if v.Walks(3) {
		words = s.cut.words()
	}
	asks[len(before)].Do = []fold.Act{{Do: "skim", Of: "part", Words: first + words + " Stop the spindle. Look, then " + s.load.Try}}
	if s.load.Wrong(v) {
		return asks
	}
	asks = append(asks, s.cut.asks(v)...)
	if h, _, ok, err := s.cut.height(v); s.raises && v.Walks(3) && ok && err == nil && s.cut.judged(v, h).Verdict == fold.Pass {
		asks = append(asks, s.cut.lowered())
	}
	return asks
}

func (s *skimming) judge(v fold.View) fold.Outcome {
	var o fold.Outcome
	if s.gapped && s.gap.Check(v, &o) {
		return o
	}
	if s.raises && v.Has(s.raised.Field) && s.cut.left(v, &o) {
		return o
	}
	s.load.Slips(v, &o)
	if v.Walks(3) && len(o.Next) == 0 {
		if s.cut.check(v, &o) {
			return o
		} else if s.raises {
			s.cut.out(v, &o)
		}
	}
	o.Facts = []fold.Known{{ID: "skimmed"}}
	o.Learned = s.load.Held
	return o
}

func (s *skimming) page(v fold.View) fold.Page {
	pg := fold.Page{Why: s.load.Why,
		Act:     "Skim once, shallow, in a safe corner. Stop, look, and " + s.load.Try,
		Read:    s.load.Read,
		Caution: "This tool does not stop the machine. Door shut, eye protection, out of the tool plane.",
		Scene:   kit.Scene(s.p, v, nil)}
	pg.Scene.Cut = s.cut.section(v, s.raises)
	if s.gapped && v.Has("pause") && s.gap.Looking(v) {
		s.gap.Page(v, &pg)
	} else if s.p.Short() && s.raises && v.Has("pause") && !v.Has(s.raised.Field) {
		pg.Why, pg.Act = "What a length or an offset is wrong by comes down on the part at the first cut.",
			"Run an air pass with the raise in; then leave the small raise in."
		pg.Read = "What the control shows for that shift or wear."
	} else if v.Walks(3) && v.Has(s.load.Asks[len(s.load.Asks)-1].Field) {
		s.cut.page(v, &pg)
	}
	return pg
}

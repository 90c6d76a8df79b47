package main

import (
	"fmt"
	"slices"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps"
	"fliptrue/steps/fold"
	"fliptrue/steps/side2"
)

// outlookJSON is where a setup stands among the others of its job.
type outlookJSON struct {
	Order int        `json:"order"` // from 1: in which order the setups are walked
	Needs []needJSON `json:"needs"` // what it takes from elsewhere
	Open  []string   `json:"open"`  // sentences: to be settled before its first irreversible step
}

// needJSON is one thing that a setup takes from elsewhere.
type needJSON struct {
	Fact string `json:"fact"`
	What string `json:"what"` // the same in words
	From string `json:"from"` // a setup, "job" or "machine card"; "" when nothing brings it
	Here bool   `json:"here"` // it is there and stands
	Void string `json:"void"` // why it does not stand, or ""
}

func outlookOf(l steps.SetupLook) outlookJSON {
	o := outlookJSON{Order: l.Order, Needs: []needJSON{}, Open: append([]string{}, l.Open...)}
	for _, n := range l.Needs {
		o.Needs = append(o.Needs, needJSON{Fact: string(n.Fact), What: n.Words(), From: n.From, Here: n.Here, Void: n.Void})
	}
	return o
}

// text is one line for each thing needed and each thing open: what is open is not told twice.
func (o outlookJSON) text(indent string) string {
	var b strings.Builder
	needs := slices.DeleteFunc(slices.Clone(o.Needs), func(n needJSON) bool {
		return !n.Here && slices.ContainsFunc(o.Open, func(s string) bool { return strings.HasPrefix(s, n.What) })
	})
	w := 0
	for _, n := range needs {
		w = max(w, len([]rune(n.What)))
	}
	for _, n := range needs {
		says := "nothing brings it"
		if n.From != "" {
			says = "from " + n.From
			if n.From == "job" || n.From == "machine card" {
				says = "from the " + n.From
			}
		}
		fmt.Fprintf(&b, "%sneeds %-*s  %s\n", indent, w, n.What, says)
	}
	for _, s := range o.Open {
		b.WriteString(indent + "open  " + s + "\n")
	}
	return b.String()
}

// inOrder names the setups in the order of the walk, "" for a single one.
func inOrder(names []string) string {
	if len(names) < 2 {
		return ""
	}
	return "walked in this order: " + strings.Join(names, ", ")
}

// placeJSON is one feature in the programs of both sides, mm.
type placeJSON struct {
	Name  string `json:"name"`
	Side1 axes   `json:"side_1"`
	Side2 axes   `json:"side_2"`
}

// bothSides are the features of a second side in the programs of both; none of other kinds.
func bothSides(p *fold.Plan) []placeJSON {
	out := []placeJSON{}
	if p.Setup.Flip == "" {
		return out
	}
	for _, f := range side2.BothSides(p) {
		out = append(out, placeJSON{f.Name, axes(f.Side1), axes(f.Side2)})
	}
	return out
}

// flipText is one line a feature.
func flipText(flip string, fs []placeJSON, sys unit.System) string {
	if len(fs) == 0 {
		return ""
	}
	var b strings.Builder
	w := len("feature")
	for _, f := range fs {
		w = max(w, len([]rune(f.Name)))
	}
	pair := func(a axes) string {
		return fmt.Sprintf("X %s Y %s", unit.Format(a.X, unit.KLength, sys, 0), unit.Format(a.Y, unit.KLength, sys, 0))
	}
	fmt.Fprintf(&b, "  features in both programs, %s, the part turned about %s:\n", unit.UnitName(unit.KLength, sys), strings.ToUpper(flip))
	fmt.Fprintf(&b, "  %-*s  %-21s %s\n", w, "feature", "side 1", "side 2")
	for _, f := range fs {
		fmt.Fprintf(&b, "  %-*s  %-21s %s\n", w, f.Name, pair(f.Side1), pair(f.Side2))
	}
	return b.String()
}

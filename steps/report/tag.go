package report

import (
	"fmt"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// Tag goes into the fixture's box. Lengths in mm, temperature in °C.
type Tag struct {
	Fixture     string      `json:"fixture"`
	Material    string      `json:"material"`
	Job         string      `json:"job"`
	Arrow       string      `json:"arrow"`       // which way it points
	Edge        string      `json:"edge"`        // side that is indicated, "" without
	Walls       []string    `json:"walls"`       // datum walls; empty with a floating part
	PartZero    [2]float64  `json:"part_zero"`   // from bore 1, part in the middle of its pocket
	Bore        float64     `json:"bore"`        // diameter
	Bore2       *[2]float64 `json:"bore2"`       // from bore 1; null without
	Temperature *float64    `json:"temperature"` // as made
	Threads     string      `json:"threads"`     // kind, thread, depth
	Cycles      int         `json:"cycles"`      // so far
	Retire      int         `json:"retire"`      // 0 for never
	Uses        int         `json:"uses"`        // so far
	kind        string      // bore, pin or square
	sys         unit.System
}

// MakeTag is the tag of a plan's fixture by its card as it stands, with the uses that records hold and the card does
// not yet; ok is false where the setup has no fixture.
func MakeTag(p *fold.Plan, card *jobs.Fixture, owed int) (Tag, bool) {
	f, s := card, p.Setup
	if s.Card == "" {
		return Tag{}, false
	}
	t := Tag{Fixture: f.ID, Material: f.Material, Job: p.Job.Name, Arrow: "toward you", Walls: append([]string{}, s.Against...),
		PartZero: [2]float64{f.AsMade.PartZero.X, f.AsMade.PartZero.Y}, Bore: f.AsMade.Bore.Dia, Cycles: f.Threads.Cycles,
		Retire: f.Threads.Retire,
		Uses:   f.Uses + owed, kind: or(f.AsMade.Bore.Kind, "bore"), sys: p.Job.Unit}
	if p.OnLocator() {
		t.Walls = []string{t.kind, "second " + t.kind}
	}
	if e := f.AsMade.Edge; e != nil {
		t.Edge = e.Side
	}
	if b := f.AsMade.Bore2; b != nil {
		t.Bore2 = &[2]float64{b.At.X, b.At.Y}
	}
	if k := f.AsMade.Temperature; k != nil {
		v := float64(*k)
		t.Temperature = &v
	}
	if f.Threads.Kind != "none" {
		t.Cycles += owed
		t.Threads = f.Threads.Kind + " " + s.Screws.Thread
		if f.Threads.Depth > 0 {
			t.Threads += ", full depth " + unit.Show(f.Threads.Depth, unit.KLength, p.Job.Unit, 0)
		}
	}
	return t, true
}

// Lines are what stands on the tag, the fixture's name first.
func (t Tag) Lines() []string {
	num := func(v float64) string { return unit.Format(v, unit.KLength, t.sys, 0) }
	mm := unit.UnitName(unit.KLength, t.sys)
	lines := []string{
		fmt.Sprintf("FIXTURE %s   %s", t.Fixture, t.Material),
		"for " + t.Job,
		"arrow " + strings.ToUpper(t.Arrow) + "   edge " + strings.ToUpper(or(t.Edge, "none")) + "   part against " + strings.ToUpper(
			or(strings.Join(t.Walls, " and "), "nothing: floating")),
		fmt.Sprintf("part zero from %s   X %s   Y %s %s", t.kind, num(t.PartZero[0]), num(t.PartZero[1]), mm),
		t.kind + " " + num(t.Bore) + " " + mm,
	}
	if t.Bore2 != nil {
		lines[4] += fmt.Sprintf("   second at X %s   Y %s", num(t.Bore2[0]), num(t.Bore2[1]))
	}
	if t.Temperature != nil {
		lines = append(lines, "made at "+unit.Show(*t.Temperature, unit.KTemperature, t.sys, 0))
	}
	cycles := fmt.Sprintf("thread cycles %d", t.Cycles)
	if t.Retire > 0 {
		cycles += fmt.Sprintf(" of %d", t.Retire)
	}
	return append(lines, "threads "+or(t.Threads, "none"), cycles+fmt.Sprintf("   uses so far %d", t.Uses),
		"torque or angle used ____________________")
}

// Text is the tag in a frame to cut out.
func (t Tag) Text() string {
	lines := t.Lines()
	w := 0
	for _, l := range lines {
		w = max(w, len([]rune(l)))
	}
	edge := "+" + strings.Repeat("-", w+2) + "+\n"
	var b strings.Builder
	b.WriteString(edge)
	for _, l := range lines {
		fmt.Fprintf(&b, "| %s%s |\n", l, strings.Repeat(" ", w-len([]rune(l))))
	}
	b.WriteString(edge)
	return b.String()
}

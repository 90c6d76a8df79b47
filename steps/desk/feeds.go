package desk

import (
	"fmt"
	"math"

	"fliptrue/calc/feed"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// Feeds is the window of speed and feed of the job's planned cut, with the row of its material.
type Feeds struct {
	Why    string // why it is not computed
	Row    feed.Row
	Window feed.Window
	Teeth  int
	Spins  bool // the machine card gives the spindle's range
	Fz     float64
}

// unlimited stands for a spindle and axes that no card limits.
var unlimited = feed.Machine{RPM: [2]float64{1, 1e6}, Feed: 1e6}

// FeedsOf finds it: chip and speed by material, force that breaks the cutter, spindle and axes.
func FeedsOf(p *fold.Plan) (f Feeds) {
	cut, why := Heaviest(p)
	if why != "" {
		f.Why = why
		return f
	}
	t := p.Job.Tools[p.Setup.Cut.Tool]
	part, err := p.Job.Library().Like(p.Job.Part.Material)
	if err == nil {
		f.Row, err = feed.RowOf(part.Name)
	}
	if err != nil {
		f.Why = err.Error()
		return f
	}
	m, card := unlimited, &p.Job.Machine
	if f.Spins = card.Spindle[1] > 0; f.Spins {
		m.RPM = card.Spindle
	}
	if card.Fastest > 0 {
		m.Feed = card.Fastest
	}
	j := feed.Job{Row: f.Row, Cut: cut, Runout: t.Runout, Machine: m}
	if b, err := (&reach{p: p}).beamOf(t); err == nil {
		j.Break = b.most
	}
	f.Teeth, f.Fz = t.Teeth, p.Setup.Cut.Fz
	if f.Window, err = j.Window(); err != nil {
		f.Why = err.Error()
	}
	return f
}

// by is what a side of the window comes from.
var by = map[feed.Side]string{feed.ByRow: "the material", feed.ByRub: "below it rubs", feed.ByRunout: "twice the runout",
	feed.ByBreak: "half of what breaks the cutter", feed.BySpindle: "the spindle", feed.ByAxes: "the axes"}

// Says are its lines.
func (f Feeds) Says(p *fold.Plan) []string {
	if f.Why != "" {
		return []string{"Not computed: " + f.Why + "."}
	}
	w := f.Window
	length := func(v float64) string { return unit.Show(v, unit.KLength, p.Job.Unit, ofAChip(p)) }
	out := []string{fmt.Sprintf("spindle  %.0f to %.0f turns a minute (%s; %s)", w.RPM[0], w.RPM[1], by[w.RPMBy[0]], by[w.RPMBy[1]]),
		fmt.Sprintf("a tooth  %s to %s (%s; %s); the job plans %s", length(w.Fz[0]), length(w.Fz[1]), by[w.FzBy[0]], by[w.FzBy[1]], length(f.Fz))}
	if !w.Open {
		return append(out, "NO WINDOW: nothing lies between both ends. Another cutter, or another cut.")
	}
	mid := math.Sqrt(w.RPM[0] * w.RPM[1])
	least, most := w.Feeds(mid)
	out = append(out, fmt.Sprintf("at %.0f turns: feed %s to %s a minute, %d teeth", mid, aMinute(p, least), aMinute(p, most), f.Teeth))
	switch {
	case f.Fz < w.Fz[0]:
		out = append(out, "The planned chip is thinner than that: it rubs, and makes heat and powder.")
	case f.Fz > w.Fz[1]:
		out = append(out, "The planned chip is thicker than that.")
	}
	if w.Thins < 1 {
		out = append(out, fmt.Sprintf("A shallow width thins the chip to %.2f of the feed of a tooth: that is in it.", w.Thins))
	}
	if !f.Spins {
		out = append(out, "The machine card gives no spindle range: spindle.")
	}
	return append(out, "Too fast: "+f.Row.Heat+". "+fold.Capital(f.Row.Manner)+".", "Source: "+f.Row.Source+" ("+f.Row.Flag.String()+
		"). Try it on the offcut first.")
}

// aMinute shows a feed.
func aMinute(p *fold.Plan, mm float64) string {
	if p.Job.Unit == unit.Imperial {
		return fmt.Sprintf("%.1f in", mm/float64(unit.Inch))
	}
	return fmt.Sprintf("%.0f mm", mm)
}

// ofAChip is the step in which a chip is shown.
func ofAChip(p *fold.Plan) float64 {
	if p.Job.Unit == unit.Imperial {
		return 1e-5 * float64(unit.Inch)
	}
	return 1e-3
}

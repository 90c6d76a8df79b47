package bench

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// gone is a part that let go while it was cut: how it lay before, which screw turned, and where the program stood.
type gone struct {
	w      *World
	was    part // as it lay when it was cut
	screw  int  // that turned; -1 for none
	again  bool // it holds again
	file   string
	line   int
	repeat int
	at     [3]float64 // work position at the stop
	live   float64    // a shift in X that nobody knew of
	mark   float64
	late   float64 // a face cut while it was moving, off by so much
	begins int     // another line than the one to begin at, beyond it
	later  int     // line that calls the next pass, 0 without
	fate   string  // another answer to save or scrap
}

// Half-widths of how a part moves that lets go in a cut: mm, rad (common practice, from memory).
const (
	goesHalf  = 0.05
	turnsHalf = 0.3e-3
)

// LetGo is the part letting go in the middle of the cut; the world goes on as that of the plan, which goes on there.
func (w *World) LetGo(p *fold.Plan) {
	g := &gone{w: w, was: w.part, screw: -1}
	name := p.Setup.Name
	w.plan, w.setup, w.gone = p, p.Setup, g
	if n := len(w.setup.Screws.At); n > 0 {
		g.screw = int(float64(n) * w.lot.stream(name+" screw").Float64())
	}
	if w.Effects.Swap > 0 {
		w.part.shift = w.part.shift.add(w.lot.pair(name, goesHalf))
		w.part.turn += w.lot.within(name+" turn", turnsHalf)
	}
	w.hand.screws, w.probeOut = len(w.setup.Screws.At), true
	w.moves++
	g.stop()
}

// stop finds a place in the program to stop at: where the middle one of its calls of subprograms is, else a line past its
// middle; and where the tool stands then by the words of the lines before.
func (g *gone) stop() {
	for _, r := range g.w.setup.Programs {
		f, ok := g.w.plan.Program(r.Role)
		if !ok || r.Role == "drill" {
			continue
		}
		g.file = r.File
		lines := strings.Split(strings.ReplaceAll(string(f.Data), "\r", ""), "\n")
		end := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "M30") || strings.HasPrefix(l, "M2") })
		if end < 0 {
			end = len(lines)
		}
		var calls []int
		for i, l := range lines[:end] {
			if strings.Contains(l, "M98") {
				calls = append(calls, i)
			}
		}
		if g.line = 7 * end / 10; len(calls) > 0 {
			g.line = calls[len(calls)/2] + 1
		}
		if later := calls[min(len(calls)/2+1, len(calls)):]; len(later) > 0 {
			g.later = later[0] + 1
		}
		for _, l := range lines[:g.line-1] {
			walkWords(l, &g.at, false)
		}
		g.into(lines)
	}
}

// into goes on in the subprogram that the line calls, about a third of its runs.
func (g *gone) into(lines []string) {
	call := lines[g.line-1]
	p, is := wordOf(call, "P")
	runs, several := wordOf(call, "L")
	if !strings.Contains(call, "M98") || !is || !several {
		return
	}
	g.repeat = int(runs)/3 + 1
	head := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, fmt.Sprintf("O%d", int(p))) })
	if head < 0 {
		return
	}
	for range g.repeat - 1 {
		by := false
		for _, l := range lines[head+1:] {
			if strings.HasPrefix(l, "M99") {
				break
			}
			by = by && !strings.Contains(l, "G90") || strings.Contains(l, "G91")
			walkWords(l, &g.at, by)
		}
	}
}

// walkWords takes the X, Y and Z words of a line.
func walkWords(line string, at *[3]float64, by bool) {
	if i := strings.IndexAny(line, "(;"); i >= 0 {
		line = line[:i]
	}
	for i, l := range []string{"X", "Y", "Z"} {
		v, ok := wordOf(line, l)
		switch {
		case ok && by:
			at[i] += v
		case ok:
			at[i] = v
		}
	}
}

func wordOf(line, letter string) (float64, bool) {
	_, rest, ok := strings.Cut(line, letter)
	if !ok {
		return 0, false
	}
	n := 0
	for n < len(rest) && strings.ContainsRune("+-.0123456789", rune(rest[n])) {
		n++
	}
	v, err := strconv.ParseFloat(rest[:n], 64)
	return v, err == nil
}

// cutFaces are faces that the program cut before it moved, as somebody touches them where nothing else tells the place.
func (g *gone) cutFaces() (out []cutFace) {
	s := g.w.size
	at := func(looks string, x, y float64) { out = append(out, cutFace{looks, xy{x, y}}) }
	at("LEFT", 0.12*s.x, 0.15*s.y)
	at("LEFT", 0.12*s.x, 0.85*s.y)
	at("RIGHT", 0.88*s.x, 0.5*s.y)
	at("TOWARD YOU", 0.2*s.x, 0.12*s.y)
	at("TOWARD YOU", 0.8*s.x, 0.12*s.y)
	at("AWAY", 0.5*s.x, 0.88*s.y)
	return out
}

type cutFace struct {
	looks string
	at    xy
}

// sides is where the axis stands off a face of that look, and whether it is one across X.
func (c cutFace) side() (sign float64, acrossX bool) {
	switch c.looks {
	case "LEFT":
		return -1, true
	case "RIGHT":
		return 1, true
	case "TOWARD YOU":
		return -1, false
	}
	return 1, false
}

// went is how far a place of the part has moved since it was cut, machine axes.
func (g *gone) went(p xy) xy {
	now := g.w.onPart(p)
	was := g.w.part
	g.w.part = g.was
	before := g.w.onPart(p)
	g.w.part = was
	return now.sub(before)
}

// face reads a touch of a face that was cut.
func (g *gone) face(q fold.What) (v float64, ok bool) {
	n, is := strings.CutPrefix(q.Of, "cut-face/")
	fs := g.cutFaces()
	i, err := strconv.Atoi(n)
	if !is || err != nil || i < 1 || i > len(fs) {
		return 0, false
	}
	f := fs[i-1]
	sign, acrossX := f.side()
	at, along, went := f.at.x, f.at.y, g.went(f.at)
	off := went.x
	if !acrossX {
		at, along, off = f.at.y, f.at.x, went.y
	}
	tip := g.w.ball
	if g.w.mach.Probe == nil {
		tip = g.w.finder
		if g.w.mach.Finder == nil {
			tip = g.w.paper
		}
	}
	switch q.Dir {
	case "at":
		return at, true
	case "along":
		return along, true
	case "found":
		if i == 5 {
			off += g.late
		}
		r := tip.rx
		if !acrossX {
			r = tip.ry
		}
		return at + off + sign*r + g.w.gauss(g.w.Effects.Noise), true
	}
	return 0, false
}

// read is what an instrument shows of it.
func (g *gone) read(a fold.Ask) (v, step float64, ok bool) {
	w, q := g.w, a.What
	fine := w.Effects.Readout
	if v, ok := g.face(q); ok {
		return v, fine, true
	}
	switch q.By + " " + q.Of + " " + q.Dir {
	case "control stop w":
		i := strings.Index("xyz", q.Axis)
		return g.at[i] * g.scale(), fine, true
	case "control stop m":
		o := xy{w.hand.keyed["x"] + g.live, w.hand.keyed["y"]}
		at := pose{o, w.hand.keyed["rotation"]}.of(xy{g.at[0], g.at[1]}.times(g.scale()))
		switch q.Axis {
		case "x":
			return at.x, fine, true
		case "y":
			return at.y, fine, true
		}
		l := 0.0
		if w.mach.Lengths != "touched-off" {
			l = w.table(fmt.Sprint(w.setup.Cut.Tool))
		}
		return w.hand.keyed["z"] + g.at[2]*g.scale() + l, fine, true
	case "control program line":
		return float64(g.line), 1, true
	case "control program depth":
		return w.setup.Cut.Ap, 0.001, true
	case "gauge part mark":
		return g.mark, 0.05, true
	case "gauge part stock":
		return w.plan.Job.Part.Skin[1], 0.05, true
	}
	return 0, 0, false
}

// scale is a program's unit: the job's.
func (g *gone) scale() float64 {
	if g.w.plan.Job.Unit == unit.Imperial {
		return 25.4
	}
	return 1
}

// say answers of it.
func (g *gone) say(a fold.Ask) (string, bool) {
	w, q := g.w, a.What
	if n, ok := strings.CutPrefix(q.Of, "screw/"); ok && q.By == "driver" {
		if n == strconv.Itoa(g.screw+1) && !g.again {
			return a.Options[len(a.Options)-1], true
		}
		return a.Options[0], true
	}
	if n, ok := strings.CutPrefix(q.Of, "cut-face/"); ok && q.Dir == "looks" {
		if i, err := strconv.Atoi(n); err == nil && i >= 1 && i <= len(g.cutFaces()) {
			return g.cutFaces()[i-1].looks, true
		}
	}
	switch q.By + " " + q.Of + " " + q.Dir {
	case "control program running":
		return g.file, true
	case "control program repeat":
		return strconv.Itoa(g.repeat), true
	case "control program begin":
		n, _ := strconv.Atoi(a.Want)
		return strconv.Itoa(n + g.begins), true
	case "eye spindle tool":
		if n := w.setup.Cut.Tool; n > 0 {
			return strconv.Itoa(n), true
		}
	case "eye paint-lines held":
		if g.again {
			return a.Want, true
		}
		n, _ := strconv.Atoi(a.Want)
		return strconv.Itoa(max(n-1, 0)), true
	case "eye paint-lines ":
		return strconv.Itoa(max(len(w.setup.Screws.At)-1, 0)), true
	case "count faces cut":
		if a.Optional || w.setup.HoldDown == "S" {
			return strconv.Itoa(len(g.cutFaces())), true
		}
		return "0", true
	case "eye part let-go":
		return a.Options[1], true
	case "eye part held-again":
		return a.Options[2], true
	case "eye part rescue":
		if g.fate != "" {
			return g.fate, true
		}
	}
	return "", false
}

// held is the part held again where it lies.
func (g *gone) held() { g.again = true }

// Stopped is where the part let go: its screw from 1, 0 for none, the line, and how far the part zero has moved since it was cut.
func (w *World) Stopped() (screw, line int, went Pair, turn float64) {
	if w.gone == nil {
		return 0, 0, Pair{}, 0
	}
	d := w.gone.went(xy{})
	return w.gone.screw + 1, w.gone.line, Pair{d.x, d.y}, w.part.turn - w.gone.was.turn
}

// goneMistakes are those made after a part let go (common practice, from memory).
var goneMistakes = []Mistake{
	{Name: "shift-live", Size: 0.5, Unit: "mm", Cost: "The new offset would have been reckoned from one that was never in force.",
		make: func(w *World, h *happening) { w.gone.live = h.size }, cures: []string{"look readout"},
		undo: func(w *World, _ *happening) { w.gone.live = 0 }},
	{Name: "line-of-another-pass", Size: 1, Unit: "passes", Cost: "The field of a whole pass would have stayed uncut, and the next have met it.",
		shows: func(w *World, _ *happening, a fold.Ask) (string, bool) {
			return strconv.Itoa(w.gone.later), w.gone.later > 0 && a.What.Of == "program" && a.What.Dir == "line"
		}, cures: []string{"look control"}},
	{Name: "gouged", Size: 1.5, Unit: "mm", Cost: "A mark deeper than what is still to come off would have been found on the finished part.",
		make: func(w *World, h *happening) { w.gone.mark = h.size }},
	{Name: "not-held", Size: 1, Unit: "screws", Cost: "The part would have been thrown by the next pass.",
		when: "after do hold part", make: func(w *World, _ *happening) { w.gone.again = false }, cures: []string{"hold part"},
		undo: func(w *World, _ *happening) { w.gone.again = true }},
	{Name: "fixture-moved", Size: 0.1, Unit: "mm", Cost: "The old offset would have been corrected by the part's motion and not by the fixture's.",
		make: func(w *World, h *happening) { w.fixture = w.fixture.about(w.onFixture(xy{}), 0, xy{h.size, 0}) }},
	{Name: "wrong-line", Size: 3, Unit: "lines", Cost: "The cutter would have met stock that no pass was written for.",
		make: func(w *World, h *happening) { w.gone.begins = int(math.Round(h.size)) }, cures: []string{"look program"},
		undo: func(w *World, _ *happening) { w.gone.begins = 0 }},
	{Name: "scrapped", Size: 1, Unit: "count", Cost: "A part that could be saved would have been thrown away.",
		make: func(w *World, _ *happening) { w.gone.fate = "scrap it" }},
	{Name: "cut-too-late", Size: 0.04, Unit: "mm", Cost: "A face cut while the part was moving would have pulled the offset with it.",
		make: func(w *World, h *happening) { w.gone.late = h.size }, cures: []string{"wipe part"},
		undo: func(w *World, _ *happening) { w.gone.late = 0 }},
}

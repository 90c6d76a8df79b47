package tui

import (
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/tui/canvas"

	"github.com/charmbracelet/x/ansi"
)

// shop is the practice job in a hold-down plan, with ball, tram and side 1 before its side 2.
func shop(t testing.TB, hold string) *jobs.Job {
	t.Helper()
	files, err := builtin.Texts(hold)
	if err != nil {
		t.Fatal(err)
	}
	files[builtin.JobFile] = strings.Replace(files[builtin.JobFile], "setups:\n", `setups:
  side1: {kind: first-side, offset: G55, finds: probe, z0: top skin, zero: corner,
          vise: {jaw: away, jaw-top: -9.9, parallel: 25, grip: 4.5, stop: left, wall: 2.6, wall-span: 47},
          cut: {tool: 3, ae: 1.5, ap: 0.4, fz: 0.02, lowest: -8.8}}
  ring: {kind: ball}
  head: {kind: tram}
`, 1)
	j, fs := jobs.ReadJob(jobs.Mem(files), builtin.JobFile)
	if err := fs.Err(); err != nil {
		t.Fatal(err)
	}
	return j
}

// programmed is a plan of the practice job with its programs beside it.
func programmed(t testing.TB, hold, setup string) *fold.Plan {
	t.Helper()
	p, err := steps.NewPlan(shop(t, hold), setup, nil)
	if err != nil {
		t.Fatal(err)
	}
	return posted(t, p, hold)
}

// scene is what one page of a step has to show.
type scene struct {
	name   string
	state  fold.State
	judged bool
	sys    *fold.Plan
	fold.Scene
}

// scenes are those of all pages of a walk, one a step, field and verdict.
func scenes(t testing.TB, p *fold.Plan, name string, seed uint64) []scene {
	t.Helper()
	w := bench.NewWorld(p, seed, bench.Usual(p))
	k := bench.NewWalk(p, w, nil)
	var out []scene
	seen := map[string]bool{}
	if _, err := k.Until(nil); err != nil {
		t.Fatal(err)
	}
	l := steps.NewLog()
	for _, e := range k.Events {
		l.Apply(e)
		st := l.State(p)
		c := st.Cursor
		key := fmt.Sprintf("%s/%s/%s/%v", name, c.Step, c.Field, c.Decide)
		if c.Step == "" || seen[key] {
			continue
		}
		seen[key] = true
		sc := st.Page().Scene
		if ss, ok := st.Step(c.Step); ok {
			if len(sc.Shapes) == 0 {
				sc.Shapes = kit.Outline(ss)
			}
			sc = locate(sc, kit.Marks(&st, ss, c.Field))
		}
		out = append(out, scene{name: key, state: st, judged: c.Decide, sys: p, Scene: sc})
	}
	return out
}

func TestShowPictures(t *testing.T) {
	if os.Getenv("SHOW") == "" {
		t.Skip()
	}
	last := ""
	for _, hold := range []string{"T", "M", "S"} {
		for _, setup := range []string{"side2", "side1", "ring", "head"} {
			if hold != "T" && setup != "side2" {
				continue
			}
			p := programmed(t, hold, setup)
			for _, s := range scenes(t, p, hold+"/"+setup, 1) {
				a := artist{t: theme(Look{Colour: Off}), sys: p.System(), judged: s.judged}
				for _, d := range a.pictures(s.Scene) {
					text := ansi.Strip(strings.Join(d.at(90, 24), "\n"))
					if text == last {
						continue
					}
					last = text
					fmt.Printf("=== %s: %s\n%s\n", s.name, d.name, text)
				}
			}
		}
	}
}

// TestPictures draws every picture of every page of every step of a walk in each plan and kind, and holds it
// against what a picture must be: what is asked now is marked where it is asked, no text lies on
// another or on a line, the legend names what is drawn and only that, and the
// table's directions are told.
func TestPictures(t *testing.T) {
	t.Parallel()
	type walk struct {
		name string
		p    *fold.Plan
	}
	var walks []walk
	for _, w := range [][2]string{{"T", "side2"}, {"M", "side2"}, {"S", "side2"}, {"T", "side1"}, {"S", "side1"}, {"T", "ring"}, {"T", "head"}} {
		walks = append(walks, walk{w[0] + "/" + w[1], programmed(t, w[0], w[1])})
	}
	for _, kind := range builtin.Kinds() {
		if kind == "second-side" || kind == "whole" || kind == "rescue" { // the last is begun in the cut
			continue
		}
		j, err := builtin.Job(kind)
		if err != nil {
			t.Fatal(err)
		}
		p, err := steps.NewPlan(j, j.Setups[0].Name, nil)
		if err != nil {
			t.Fatal(err)
		}
		walks = append(walks, walk{kind, posted(t, p, kind)})
	}
	total := 0
	for _, w := range walks {
		p := w.p
		n := 0
		for _, s := range scenes(t, p, w.name, 1) {
			for _, look := range []Look{{Colour: Off}, {Colour: Off, ASCII: true}} {
				a := artist{t: theme(look), sys: p.System(), judged: s.judged}
				for _, d := range a.pictures(s.Scene) {
					for _, size := range [][2]int{{58, 9}, {78, 19}, {90, 28}, {130, 50}} {
						n++
						c, foot := d.make(size[0], size[1])
						if err := wrong(c, foot, size[0], d.name, s.Scene, a); err != nil {
							t.Errorf("%s, %s, %dx%d: %v\n%s\n%s", s.name, d.name, size[0], size[1], err, strings.Join(c.Lines(nil), "\n"), ansi.Strip(strings.Join(foot, "\n")))
						}
					}
				}
			}
		}
		t.Logf("%s: %d pictures", w.name, n)
		total += n
	}
	if total < 1000 {
		t.Errorf("only %d pictures", total)
	}
}

// wrong is what is amiss with a picture.
func wrong(c *canvas.Canvas, foot []string, w int, name string, sc fold.Scene, a artist) error {
	lines := c.Lines(nil)
	all := strings.Join(lines, "\n")
	words := c.Words()
	for i, x := range words {
		n := len([]rune(x.Text))
		for _, y := range words[:i] {
			if x.Y == y.Y && x.X < y.X+len([]rune(y.Text)) && y.X < x.X+n {
				return fmt.Errorf("%q lies on %q", x.Text, y.Text)
			}
		}
		for j := range n {
			if strings.ContainsAny(x.Text, "abcdefghijklmnopqrstuvwxyz") && c.Stroked(x.X+j, x.Y) {
				return fmt.Errorf("%q lies on a line", x.Text)
			}
		}
	}
	for _, l := range foot {
		if Width(l) > w {
			return fmt.Errorf("the legend is %d wide", Width(l))
		}
	}
	switch {
	case name == "what the uncertainty is made of":
		return nil
	case sc.Cut != nil && name == sc.Cut.Name: // every height that is shown is named
		for _, l := range sc.Cut.Levels {
			if l.Z >= sc.Cut.Lo && l.Z <= sc.Cut.Hi && !strings.Contains(all, levelText(l, a.sys)) {
				return fmt.Errorf("%s is not told", l.Name)
			}
		}
		return nil
	case name == roundsName:
		for _, k := range sc.Clocks {
			if !strings.Contains(all, k.Name) {
				return fmt.Errorf("%s is not told", k.Name)
			}
		}
		return nil
	case name == "indicator run":
		for _, ends := range [][4]string{{"LEFT", "RIGHT", "AWAY", "TOWARD YOU"}, {"NEAR", "FAR", "RIGHT", "LEFT"}, {"start", "end", "needle +", "needle -"}} {
			if strings.Contains(all, ends[0]) && strings.Contains(all, ends[1]) && strings.Contains(all, ends[2]) && strings.Contains(all, ends[3]) {
				return nil
			}
		}
		return errors.New("the run's ends or its ways are not told")
	}
	for _, d := range []string{"LEFT", "RIGHT", "AWAY", "TOWARD YOU"} {
		if !strings.Contains(all, d) {
			return fmt.Errorf("%s is not told", d)
		}
	}
	if len(foot) == 0 {
		return nil
	}
	text := ansi.Strip(strings.Join(foot, "\n"))
	used := c.Used()
	for _, l := range legend {
		if w := boreWord(sc.Shapes); l.role == Bore && w != "" {
			l.word = w
		}
		told := strings.Contains("  "+strings.ReplaceAll(text, "\n", "  ")+"  ", " "+l.word+"  ")
		if told && !used[l.role] {
			return fmt.Errorf("the legend tells of %q, which is not drawn", l.word)
		}
		if !told && used[l.role] && len(lines) >= 17 {
			return fmt.Errorf("the legend does not tell of %q", l.word)
		}
		delete(used, l.role)
	}
	for k := range used {
		if k != Dim && k != Text {
			return fmt.Errorf("ink %d is in the picture and in no legend", k)
		}
	}
	for _, s := range sc.Shapes {
		if s.Role == fold.RoleNext && len(s.Points) == 1 {
			x, y, in := c.Cell(canvas.Point{X: s.Points[0].X, Y: s.Points[0].Y})
			if in && []rune(lines[y])[x] != Marker(NextHit) {
				return fmt.Errorf("the place asked for is not marked at %d, %d", x, y)
			}
			if !in && strings.HasPrefix(name, "plan") {
				return errors.New("the place asked for is outside")
			}
		}
	}
	return nil
}

// A fixture whose RIGHT end stands TOWARD YOU is drawn so, turned by what was measured times what is
// said: in the plan its edge falls to the right, in the run the line does, and the
// arrow to tap points AWAY. With the ends changed round all three change, and a dial that
// counts the other way changes none.
func TestTheTurnIsDrawnAsMeasured(t *testing.T) {
	for _, c := range []struct {
		dir         string
		rise, scale float64 // of the edge, and of the dial
	}{{"AWAY", -0.157, 1}, {"TOWARD YOU", 0.157, 1}, {"AWAY", -0.157, -1.07}, {"TOWARD YOU", 0.157, -1.07}} {
		run := &fold.RunPlot{At: []float64{0, 108}, Reading: []float64{0, c.rise / c.scale}, Fitted: []float64{0, c.rise / c.scale}, Suspect: -1,
			TapEnd: "RIGHT", TapDir: c.dir, Tap: 0.157, Ends: [2]string{"LEFT", "RIGHT"}, Scale: c.scale, Limit: 0.009}
		edge := fold.Shape{Role: fold.RoleEdge, Points: []fold.XY{xy(0, 0), xy(108, 0)}}
		box := fold.Shape{Role: fold.RoleFixture, Closed: true, Points: append(edge.Points[:2:2], xy(108, 80), xy(0, 80))}
		sc := fold.Scene{Run: run, Shapes: []fold.Shape{box, edge}}
		a := artist{t: theme(Look{Colour: Off}), judged: true}
		if by := turn(run); math.Abs(math.Abs(by)-0.157/108) > 1e-12 || (by < 0) != (c.rise < 0) {
			t.Errorf("%+v: turned by %v", c, by)
		}
		n := a.magnified(sc)
		if by := math.Abs(turn(run)) * float64(n) * 180 / math.Pi; n < 10 || by > 6 {
			t.Errorf("%+v: drawn %d times, %v deg", c, n, by)
		}
		got := turned(sc.Shapes, turn(run)*float64(n))[1].Points
		if (got[1].Y < got[0].Y) != (c.rise < 0) {
			t.Errorf("%+v: the edge goes from %v to %v", c, got[0], got[1])
		}
		find := func(c *canvas.Canvas, text string) (x, y int) {
			for y, l := range c.Lines(nil) {
				if i := strings.Index(l, text); i >= 0 {
					return len([]rune(l[:i])), y
				}
			}
			t.Fatalf("no %q in\n%s", text, strings.Join(c.Lines(nil), "\n"))
			return 0, 0
		}
		r := a.run(run, 80, 20)
		_, first := find(r, "o")
		_, away := find(r, "AWAY")
		_, toward := find(r, "TOWARD")
		_, end := find(r, " 0.157")
		if away >= toward || (c.rise < 0) != (end > first) {
			t.Errorf("%+v: AWAY in line %d, TOWARD YOU in %d, the run ends in %d:\n%s", c, away, toward, end, strings.Join(r.Lines(nil), "\n"))
		}
		p, _ := a.plan(sc, canvas.Box{MaxX: 108, MaxY: 80}, 90, 30)
		head := "^"
		if c.rise > 0 {
			head = "v"
		}
		if x, _ := find(p, head); x < 45 {
			t.Errorf("%+v: the arrow is not at the RIGHT end", c)
		}
	}
}

// A fixture whose edge was made 1.5 mrad off lies square where its run shows just that: the run is drawn level.
func TestARunIsDrawnLessTheEdgeAsMade(t *testing.T) {
	run := &fold.RunPlot{Scale: -1.07, AsMade: 1.5e-3, At: []float64{0, 50, 100}}
	for _, x := range run.At {
		run.Reading = append(run.Reading, (0.2+1.5e-3*x)/run.Scale)
	}
	for _, m := range moves(run, run.Reading) {
		if math.Abs(m-0.2) > 1e-12 {
			t.Errorf("drawn at %v", m)
		}
	}
}

// xy is a place of a scene.
func xy(x, y float64) fold.XY { return fold.XY{X: x, Y: y} }

package sent

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func shown(ns []Number) (out []string) {
	for _, n := range ns {
		out = append(out, strings.ToUpper(n.Axis)+n.Text)
	}
	return out
}

func TestLine(t *testing.T) {
	for _, c := range []struct {
		line, why string // why: part of the error, or "" for the numbers
		want      []string
	}{
		{"1.25", "", []string{"1.25"}},
		{"+0012.345", "", []string{"+0012.345"}},
		{"1.25 -3", "", []string{"1.25", "-3"}},
		{"X1.0 Y-2,5", "", []string{"X1.0", "Y-2,5"}},
		{"x=1.0 Y 2.5 z = -3", "", []string{"X1.0", "Y2.5", "Z-3"}},
		{"hit X1.0 mm Y2.0 mm", "", []string{"X1.0 mm", "Y2.0 mm"}},
		{"1 1/8in", "", []string{"1 1/8in"}},
		{"[-271.509,-155.415,-40.000]", "", []string{"X-271.509", "Y-155.415", "Z-40.000"}},
		{"[hit:-271.509,-155.415,-40.000:1]", "", []string{"X-271.509", "Y-155.415", "Z-40.000"}},
		{"probed (-271.509, -155.415)", "", []string{"X-271.509", "Y-155.415"}},
		{"[1,5; 2,5; -3]", "", []string{"X1,5", "Y2,5", "Z-3"}},
		{"[1,5 2,5]", "", []string{"X1,5", "Y2,5"}},
		{"[1, 5, 7]", "", []string{"X1", "Y5", "Z7"}},
		{"[y2.5, x1.5]", "", []string{"Y2.5", "X1.5"}},
		{"[1.0,2.0,3.0,90.0]", "", []string{"X1.0", "Y2.0", "Z3.0"}},
		{"[1.25]", "", []string{"1.25"}},
		{"[1,25]", "decimal point", nil},
		{"[1,2,3]", "decimal point", nil},
		{"[hit:1.0,2.0,3.0:0]", "no contact", nil},
		{"[hit:1.0,2.0,3.0:7]", "not known", nil},
		{"[1.0,2.0", "no closing bracket", nil},
		{"7 [1.0,2.0]", "before the bracket", nil},
		{"[1.0,2.0] 7", "behind the bracket", nil},
		{"[1.0,,2.0]", "no number", nil},
		{"[]", "no number", nil},
		{"X1.0 Y", "behind Y", nil},
		{"XY1.0", "no number", nil},
		{"X Y1.0", "no number", nil},
		{"10:42 1.25", "no number", nil},
		{"1.0,2.0", "no number", nil},
		{"G1 X1", "no number", nil},
		{"none", "no number", nil},
	} {
		ns, err := Line(c.line)
		if got := shown(ns); !slices.Equal(got, c.want) || (err != nil) != (c.why != "") || err != nil && !strings.Contains(err.Error(), c.why) {
			t.Errorf("%q: %q, %v; want %q, %q", c.line, got, err, c.want, c.why)
		}
	}
}

func TestForm(t *testing.T) {
	xyz := []string{"x", "y", "z"}
	for _, c := range []struct {
		form      Form
		line, why string
		want      []string
	}{
		{Form{Unit: "mm"}, "X1.5 Y-2", "", []string{"X1.5mm", "Y-2mm"}},
		{Form{Unit: "mm"}, "0.0492in", "", []string{"0.0492in"}}, // its own unit wins
		{Form{Unit: "in"}, `0.25"`, "", []string{`0.25"`}},
		{Form{Skip: "01A", Unit: "mm"}, "01A+00000.012", "", []string{"+00000.012mm"}},
		{Form{Skip: "01A"}, "02A+00000.012", "does not begin", nil},
		{Form{Columns: xyz}, "1.5 -2 3", "", []string{"X1.5", "Y-2", "Z3"}},
		{Form{Columns: xyz}, "1.5,-2.0,3.25", "", []string{"X1.5", "Y-2.0", "Z3.25"}},
		{Form{Columns: xyz}, "1,5;-2,0;3,25", "", []string{"X1,5", "Y-2,0", "Z3,25"}},
		{Form{Columns: []string{"-", "y", "x"}}, "10:42:05 -2 1.5", "", []string{"Y-2", "X1.5"}},
		{Form{Columns: []string{"-", "value", "-"}}, "7, -0.012, ok", "", []string{"-0.012"}},
		{Form{Columns: xyz}, "X1.5 Y-2 Z3", "", []string{"X1.5", "Y-2", "Z3"}},
		{Form{Columns: xyz}, "Y1.5 X-2 Z3", "column of x", nil},
		{Form{Columns: xyz}, "1.5 -2", "2 columns", nil},
		{Form{Columns: xyz}, "1.5 -2 3 4", "4 columns", nil},
		{Form{Columns: xyz}, "1.5 -2 off", "no number", nil},
		{Form{Columns: xyz}, "1.5,,3.0", "no number", nil},
	} {
		ns, err := c.form.Read(c.line)
		if got := shown(ns); !slices.Equal(got, c.want) || (err != nil) != (c.why != "") || err != nil && !strings.Contains(err.Error(), c.why) {
			t.Errorf("%+v %q: %q, %v; want %q, %q", c.form, c.line, got, err, c.want, c.why)
		}
	}
	for _, cols := range [][]string{{"x", "x"}, {"-"}, {"a"}, {"x", "value"}} {
		if (Form{Columns: cols}).Valid() == nil {
			t.Errorf("columns %q were taken", cols)
		}
	}
	for _, cols := range [][]string{nil, {"x", "-", "-"}, {"-", "value"}, {"z", "y", "x"}} {
		if err := (Form{Columns: cols}).Valid(); err != nil {
			t.Error(err)
		}
	}
}

var noon = time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)

// However lines are cut into pieces, each comes out once, whole and in order.
func TestLinesInPieces(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var text string
		var want []string
		for i := range rapid.IntRange(1, 12).Draw(rt, "lines") {
			l := fmt.Sprintf("X%d.%03d Y-%d", rapid.IntRange(-400, 0).Draw(rt, "x"), i, i)
			want = append(want, l)
			text += l + rapid.SampledFrom([]string{"\n", "\r\n", "\r"}).Draw(rt, "end")
		}
		tail := rapid.SampledFrom([]string{"", "X1"}).Draw(rt, "tail")
		l := Lines{Begun: true}
		var got []string
		at := noon
		for rest := text + tail; rest != ""; {
			n := rapid.IntRange(1, len(rest)).Draw(rt, "piece")
			whole, torn := l.Add([]byte(rest[:n]), at)
			if len(torn) > 0 {
				rt.Fatal(torn)
			}
			got, rest, at = append(got, whole...), rest[n:], at.Add(3*time.Second)
		}
		if !slices.Equal(got, want) {
			rt.Fatalf("%q, want %q", got, want)
		}
	})
}

// A line of which the beginning or the end is missing is never given in part.
func TestLinesTorn(t *testing.T) {
	type piece struct {
		after time.Duration
		text  string
	}
	l := Lines{}
	if l.Inside(); true {
		whole, torn := l.Add([]byte("509\n-3.5\n"), noon.Add(time.Hour))
		if !slices.Equal(whole, []string{"-3.5"}) || len(torn) != 1 {
			t.Errorf("inside of a line: %q, %v", whole, torn)
		}
	}
	for _, c := range []struct {
		name   string
		timed  bool
		pieces []piece
		whole  []string
		torn   string
	}{
		{"on its way when listening began", true, []piece{{200 * time.Millisecond, "71.509\r\n-3.5\r\n"}}, []string{"-3.5"}, "without its beginning"},
		{"and in two pieces", true, []piece{{0, "71."}, {10 * time.Millisecond, "5\n1\n"}}, []string{"1"}, "without its beginning"},
		{"sent after a pause", true, []piece{{2 * time.Second, "-271.509\r\n"}}, []string{"-271.509"}, ""},
		{"the cable was pulled in it", true, []piece{{2 * time.Second, "-27"}, {3 * time.Second, "1.5\n"}}, []string{"1.5"}, "without its end"},
		{"a file is written in pieces", false, []piece{{2 * time.Second, "-27"}, {3 * time.Second, "1.5\n"}}, []string{"-271.5"}, ""},
		{"too long", true, []piece{{2 * time.Second, strings.Repeat("1", 300)}, {time.Millisecond, "\n5\n"}}, []string{"5"}, "no reading"},
	} {
		l := Lines{Timed: c.timed}
		l.Listen(noon)
		var whole []string
		torn := ""
		at := noon
		for _, p := range c.pieces {
			at = at.Add(p.after)
			w, errs := l.Add([]byte(p.text), at)
			whole = append(whole, w...)
			for _, e := range errs {
				torn += e.Error()
			}
		}
		if !slices.Equal(whole, c.whole) || (torn == "") != (c.torn == "") || !strings.Contains(torn, c.torn) {
			t.Errorf("%s: %q, %q", c.name, whole, torn)
		}
	}
}

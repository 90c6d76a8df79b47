package ncode

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/iotest"
	"time"
)

// splitLines is the plain way to cut lines: LF, CR or CR LF end one.
func splitLines(s string) []string {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	s = strings.ReplaceAll(s, "\r", "\n")
	if s == "" {
		return nil
	}
	return strings.Split(strings.TrimSuffix(s, "\n"), "\n")
}

// The cutter must give the same lines whatever the size of its blocks and of the reads,
// and cut a line that is too long without losing count.
func TestCutter(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	ends := []string{"\n", "\r\n", "\r", "\n\n", "\r\r\n"}
	for round := range 3000 {
		var b strings.Builder
		end := ends[rng.IntN(len(ends))]
		for range rng.IntN(12) {
			n := rng.IntN(30)
			if rng.IntN(6) == 0 {
				n = 240 + rng.IntN(900)
			}
			b.WriteString(strings.Repeat(string('a'+rune(rng.IntN(26))), n))
			if rng.IntN(4) == 0 {
				b.WriteString(ends[rng.IntN(len(ends))])
			} else {
				b.WriteString(end)
			}
		}
		b.WriteString(strings.Repeat("z", rng.IntN(400)))
		text := b.String()
		want := splitLines(text)
		var r io.Reader = strings.NewReader(text)
		if round%3 == 0 {
			r = iotest.OneByteReader(r)
		}
		c := cutter{r: r, size: 1 + rng.IntN(700)}
		var blk block
		var got []string
		for c.next(&blk) {
			blk.lex()
			for _, ln := range blk.lines {
				s := string(blk.text[ln.at : ln.at+uint32(ln.size)])
				if (ln.flags&long != 0) != (len(s) > maxLine) {
					t.Fatalf("round %d: long flag %v on %d bytes", round, ln.flags&long != 0, len(s))
				}
				got = append(got, s)
			}
		}
		if len(got) != len(want) {
			t.Fatalf("round %d: %d lines, want %d: %q", round, len(got), len(want), text)
		}
		for i := range got {
			w := want[i]
			if len(w) > maxLine {
				w = w[:maxLine+1]
			}
			if got[i] != w {
				t.Fatalf("round %d, line %d: %q, want %q", round, i+1, got[i], w)
			}
		}
		if c.read != int64(len(text)) {
			t.Fatalf("round %d: %d bytes counted of %d", round, c.read, len(text))
		}
	}
}

// A CR LF that falls between two blocks, at the end of a line that is too long.
func TestCutterSplitEnd(t *testing.T) {
	for n := 250; n < 1200; n++ {
		text := strings.Repeat("x", n) + "\r\nG1\r\n" + strings.Repeat("y", n+1) + "\rG2\r"
		c := cutter{r: strings.NewReader(text), size: 300}
		var b block
		var got []string
		for c.next(&b) {
			b.lex()
			for _, ln := range b.lines {
				got = append(got, string(b.text[ln.at:ln.at+uint32(min(ln.size, 2))]))
			}
		}
		if !slices.Equal(got, []string{"xx", "G1", "yy", "G2"}) {
			t.Fatalf("%d: %q", n, got)
		}
	}
}

// Numbers of up to 15 digits are correctly rounded: strconv is the reference.
func TestNumber(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 200_000 {
		var b []byte
		if k := rng.IntN(3); k > 0 {
			b = append(b, " +-"[k])
		}
		whole, part := rng.IntN(8), rng.IntN(13)
		for range whole {
			b = append(b, byte('0'+rng.IntN(10)))
		}
		if part > 0 || rng.IntN(2) == 0 {
			b = append(b, '.')
		}
		for range part {
			b = append(b, byte('0'+rng.IntN(10)))
		}
		got, next, ok := number(append(b, '\n'), 0)
		want, err := strconv.ParseFloat(string(b), 64)
		if whole+part == 0 {
			if ok {
				t.Fatalf("%q was read as %v", b, got)
			}
			continue
		}
		if err != nil || !ok || next != len(b) || got != want {
			t.Fatalf("%q: got %v, %d, %v; want %v, %d", b, got, next, ok, want, len(b))
		}
	}
	for _, s := range []string{"", "-", ".", "+.", "1.2.", "1..2", "1000000001", "99999999999999999999999999", "--1"} {
		if v, _, ok := number([]byte(s+"\n"), 0); ok {
			t.Errorf("%q was read as %v", s, v)
		}
	}
}

var numbers = regexp.MustCompile(`([A-FH-MO-Z])([-+.0-9]+)`)

// A plain line and the same line with its numbers as expressions take different ways and
// must mean the same.
func TestPlainIsOdd(t *testing.T) {
	var text bytes.Buffer
	if err := generate(&text, 12_000, 0.1); err != nil {
		t.Fatal(err)
	}
	plain := text.String()
	odd := numbers.ReplaceAllString(plain, "$1[$2]")
	if odd == plain {
		t.Fatal("nothing was replaced")
	}
	a, am := walkText(t, plain, Options{Expect: expectBench()})
	b, bm := walkText(t, odd, Options{Expect: expectBench()})
	if !reflect.DeepEqual(am, bm) {
		for i := range am {
			if i >= len(bm) || am[i] != bm[i] {
				t.Fatalf("move %d: %+v and %+v", i, am[i], bm[i])
			}
		}
		t.Fatal("other motion")
	}
	b.Bytes = a.Bytes
	if !reflect.DeepEqual(a, b) {
		t.Errorf("other summary:\n%+v\n%+v", a, b)
	}
}

// Line ends, a byte order mark and the size of the reads make no difference.
func TestSameText(t *testing.T) {
	const text = "%\nN1 G21 G17 G90 G54 (first)\nT1 M6\nS100 M3 F100\nG0 Z5\nX1 Y1\nG1 Z-1\nX5\nG3 X6 Y2 J1\nG49\nM30\n%\n"
	want, wm := walkText(t, text, Options{})
	for name, s := range map[string]string{
		"CR LF": strings.ReplaceAll(text, "\n", "\r\n"),
		"CR":    strings.ReplaceAll(text, "\n", "\r"),
		"BOM":   "\xef\xbb\xbf" + text,
		"lower": strings.ToLower(text),
		"tabs":  strings.ReplaceAll(text, " ", "\t"),
		"cut":   strings.TrimSuffix(text, "\n%\n"),
	} {
		got, gm := walkText(t, s, Options{})
		got.Bytes, want.Bytes = 0, 0
		if !reflect.DeepEqual(got, want) || !reflect.DeepEqual(gm, wm) {
			t.Errorf("%s: %+v\nwant %+v", name, got, want)
		}
	}
	var r recorder
	if _, err := Walk(context.Background(), iotest.HalfReader(iotest.OneByteReader(strings.NewReader(text))), Options{}, &r); err != nil || !reflect.DeepEqual(r.moves, wm) {
		t.Errorf("byte by byte: %v, %d moves", err, len(r.moves))
	}
}

func TestBadInput(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	noise := make([]byte, 100_000)
	for i := range noise {
		noise[i] = byte(rng.UintN(256))
	}
	for name, text := range map[string]string{
		"binary":           string(noise),
		"zeros":            string(make([]byte, 100_000)),
		"one endless line": strings.Repeat("G1 X1 ", 1<<20),
		"truncated":        head + "G1 X1 Y",
		"nested":           head + "G1 X" + strings.Repeat("[", 120) + "1" + strings.Repeat("]", 120) + strings.Repeat("(", 10) + "\n",
		"UTF-16":           "\xff\xfeG\x001\x00 \x00X\x001\x00\n\x00",
	} {
		s, _ := walkText(t, text, Options{})
		if s.Verdict() != Refused {
			t.Errorf("%s: %v", name, s.Verdict())
		}
		if len(s.Findings) > 60 {
			t.Errorf("%s: %d findings", name, len(s.Findings))
		}
		for _, f := range s.Findings {
			if len(f.String()) > 400 {
				t.Errorf("%s: finding of %d bytes", name, len(f.String()))
			}
		}
	}
	// A line too long is refused by number, and the next one is read.
	s, ms := walkText(t, head+"G1 X1 ("+strings.Repeat("x", 200_000)+")\nG0 X3 Y3 Z3\nM2\n", Options{})
	i := slices.IndexFunc(s.Findings, func(f Finding) bool { return f.ID == "line-length" })
	if i < 0 || s.Findings[i].Line != headLines+1 || ms[len(ms)-1].Line != headLines+2 || s.Lines != headLines+3 {
		t.Errorf("long line: %v, last move %+v, %d lines", s.Findings, ms[len(ms)-1], s.Lines)
	}
	// Exactly 256 characters are a line.
	line := "G0 X1 (" + strings.Repeat("x", 256-8) + ")"
	if s, _ := walkText(t, head+line+"\nM2\n", Options{}); len(line) != 256 || s.Verdict() == Refused {
		t.Errorf("%d characters: %v", len(line), s.Findings)
	}
}

func TestReadError(t *testing.T) {
	bad := errors.New("the stick was pulled out")
	r := io.MultiReader(strings.NewReader(head+"G1 X1\n"), iotest.ErrReader(bad))
	var rec recorder
	s, err := Walk(context.Background(), r, Options{}, &rec)
	if !errors.Is(err, bad) || !strings.Contains(err.Error(), "line 6") {
		t.Errorf("error %v", err)
	}
	if len(rec.moves) != 3 || s.Lines != headLines+1 {
		t.Errorf("%d moves, %d lines before the error", len(rec.moves), s.Lines)
	}
}

// endless is a program without end.
type endless struct{ n int }

func (e *endless) Read(p []byte) (int, error) {
	const line = "G1 X1 Y1\n"
	for i := range p {
		p[i] = line[e.n%len(line)]
		e.n++
	}
	return len(p), nil
}

func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	calls := 0
	opts := Options{Progress: func(bytes int64, lines int) {
		if calls++; calls == 3 {
			cancel()
		}
	}}
	done := make(chan error)
	go func() {
		_, err := Walk(ctx, io.MultiReader(strings.NewReader(head), &endless{}), opts, nil)
		done <- err
	}()
	select {
	case err := <-done:
		if !errors.Is(err, context.Canceled) || calls != 3 {
			t.Errorf("%v after %d blocks", err, calls)
		}
	case <-time.After(20 * time.Second):
		t.Fatal("it goes on")
	}
}

func TestProgress(t *testing.T) {
	var text bytes.Buffer
	if err := generate(&text, 20_000, 0); err != nil {
		t.Fatal(err)
	}
	var lastBytes int64
	lastLines := 0
	s, err := Walk(context.Background(), bytes.NewReader(text.Bytes()), Options{Progress: func(b int64, l int) {
		if b <= lastBytes || l <= lastLines {
			t.Errorf("progress went from %d, %d to %d, %d", lastBytes, lastLines, b, l)
		}
		lastBytes, lastLines = b, l
	}}, nil)
	if err != nil || lastBytes == 0 || s.Bytes != int64(text.Len()) {
		t.Errorf("%v; progress to %d, %d bytes of %d", err, lastBytes, s.Bytes, text.Len())
	}
}

// No allocation for a line: ten times the lines, the same number of allocations within the pool of blocks.
func TestNoAllocation(t *testing.T) {
	count := func(lines int) float64 {
		var text bytes.Buffer
		if err := generate(&text, lines, 0); err != nil {
			t.Fatal(err)
		}
		obs, tools := ringOf(t, 60)
		return testing.AllocsPerRun(1, func() {
			sink, err := NewClearance(struct{ XY, Z float64 }{2, 2}, obs, tools, nil)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := Walk(context.Background(), bytes.NewReader(text.Bytes()), Options{Expect: expectBench()}, sink); err != nil {
				t.Fatal(err)
			}
		})
	}
	if a, b := count(30_000), count(150_000); b > a+500 {
		t.Errorf("%v allocations for 30 000 lines, %v for 150 000", a, b)
	}
}

func TestSubprograms(t *testing.T) {
	main := head + "M98 P100 L2\nG90 G0 X0\nM98 P200\nG80 M30\n"
	subs := "O100 (step)\nG91 G0 X1\nY1\nM99\nO200\nM98 P100\nG90\nM99\n"
	s, ms := walkText(t, main+subs, Options{})
	if got, want := path(ms[2:]), "r(1,0,10) r(1,1,10) r(2,1,10) r(2,2,10) r(0,2,10) r(1,2,10) r(1,3,10)"; got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
	if v := s.Verdict(); v > Warn {
		t.Errorf("%v: %v", v, s.Findings)
	}
	// Lines are those of the file: O100 stands on line 10.
	if ms[2].Line != 11 || ms[3].Line != 12 {
		t.Errorf("lines %d, %d", ms[2].Line, ms[3].Line)
	}
	if !slices.Equal(s.Dialect, []string{"M98", "O", "M99"}) {
		t.Errorf("dialect %v", s.Dialect)
	}
	for name, text := range map[string]string{
		"recursion":       head + "M98 P1\nM30\nO1\nM98 P1\nM99\n",
		"missing":         head + "M98 P7\nM30\n",
		"no M99":          head + "M98 P1\nM30\nO1\nG0 X1\n",
		"runs into next":  head + "M98 P1\nM30\nO1\nG0 X1\nO2\nM99\n",
		"too many":        head + "M98 P1 L9999999\nM30\nO1\nG0 X1\nM99\n",
		"many in many":    head + "M98 P1 L9999\nM30\nO1\nM98 P2 L9999\nM99\nO2\nG0 X1\nM99\n",
		"M99 in the main": head + "G0 X1\nM99\n",
		"no P":            head + "M98\nM30\n",
	} {
		s, ms := walkText(t, text, Options{MaxCalls: 2000})
		if v := s.Verdict(); v != NotProven {
			t.Errorf("%s: %v %v", name, v, s.Findings)
		}
		if len(ms) > 3000 {
			t.Errorf("%s: %d moves", name, len(ms))
		}
	}
	// A stream can't go back.
	s, err := Walk(context.Background(), iotest.OneByteReader(strings.NewReader(main+subs)), Options{}, nil)
	if err != nil || s.Verdict() != NotProven {
		t.Errorf("stream: %v, %v", err, s.Verdict())
	}
	// What stands on the line of the call counts before it, settings too.
	_, ms = walkText(t, head+"G0 X1\n#1=5 G91 M98 P1\nM30\nO1\nX1\nX#1\nM99\n", Options{})
	if got := path(ms[3:]); got != "r(2,0,10) r(7,0,10)" {
		t.Errorf("call after modes and settings: %s", got)
	}
	// Nor can a pipe, though it has the methods of a file.
	pr, pw, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer pr.Close()
	go func() {
		io.WriteString(pw, main+subs)
		pw.Close()
	}()
	s, err = Walk(context.Background(), pr, Options{}, nil)
	if err != nil || s.Verdict() != NotProven {
		t.Errorf("pipe: %v, %v", err, s.Verdict())
	}
	// A subprogram far into a file, after a byte order mark and a line that is too long.
	var far strings.Builder
	far.WriteString("\xef\xbb\xbf" + head + "M98 P5\nM30\n(" + strings.Repeat("x", 1000) + ")\r\n")
	for i := range 30_000 {
		fmt.Fprintf(&far, "G1 X%d\r\n", i)
	}
	far.WriteString("O5\nG0 X77\nM99\n")
	_, ms = walkText(t, far.String(), Options{})
	if m := ms[len(ms)-1]; m.To[0] != 77 || m.Line != headLines+2+1+30_000+2 {
		t.Errorf("far subprogram: %+v", m)
	}
}

package ncode

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
)

// generate writes a program of about the given number of lines: a spiral pocket over
// and over, at least 95 % straight cuts, at most 5 % arcs, with rapids between the
// passes. nearPart of its lines run along the rim, close to what stands there.
func generate(w io.Writer, lines int, nearPart float64) error {
	b := bufio.NewWriterSize(w, 1<<16)
	var buf []byte
	n := 0
	put := func(format string, a ...any) {
		fmt.Fprintf(b, format+"\n", a...)
		n++
	}
	put("%%")
	put("(generated: pocket in passes)")
	put("G21 G17 G90 G94 G40 G49 G80")
	put("G54")
	put("T3 M6")
	put("S18000 M3")
	put("G43 H3 G0 Z30.")
	word := func(l byte, v float64) {
		buf = append(buf, ' ', l)
		buf = strconv.AppendFloat(buf, v, 'f', 4, 64)
	}
	const cx, cy = 48, 32
	for pass := 0; n < lines-10; pass++ {
		z := -0.2 * float64(pass%40+1)
		near := math.Mod(float64(pass)*nearPart, 1) > 1-nearPart
		r, turns := 4.0, 24.0
		put("G0 X%.4f Y%.4f", cx+r, float64(cy))
		put("Z2.")
		put("G1 Z%.3f F200", z)
		put("G1 X%.4f Y%.4f F900", cx+r, float64(cy))
		const steps = 5000
		for i := 1; i <= steps && n < lines-10; i++ {
			a := 2 * math.Pi * turns * float64(i) / steps
			grow := 26 * float64(i) / steps
			if near {
				grow = 31
			}
			buf = buf[:0]
			x, y := cx+(r+grow)*1.4*math.Cos(a), cy+(r+grow)*0.9*math.Sin(a)
			if i%25 == 0 {
				// A small arc out and back keeps the arcs below 5 %.
				buf = append(buf, "G3"...)
				word('X', x)
				word('Y', y)
				buf = append(buf, " R40."...)
				buf = append(buf, "\nG1"...)
				n++
				word('X', x+0.01)
				word('Y', y)
			} else {
				buf = append(buf, 'N')
				buf = strconv.AppendInt(buf, int64(n%99999), 10)
				word('X', x)
				word('Y', y)
				if i%3 == 0 {
					word('Z', z)
				}
				if i%50 == 1 {
					word('F', 900)
				}
			}
			buf = append(buf, '\n')
			b.Write(buf)
			n++
		}
		put("G0 Z30.")
	}
	put("G49 G80")
	put("M5")
	put("G53 G0 Z0.")
	put("M30")
	put("%%")
	return b.Flush()
}

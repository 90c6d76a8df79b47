package ncode

import (
	"bufio"
	"fmt"
	"io"
	"math"

	"fliptrue/calc/clearance"
)

// kindOf is one kind of program for the measurements of speed: what posts put out by the
// hundred thousand lines.
type kindOf struct {
	name  string
	tool  int
	part  [3]float64 // Z0 is its top
	write func(put func(string, ...any), n int)
}

// benchTools are the cutters of the kinds.
var benchTools = map[int]struct {
	d      clearance.Dims
	corner float64
}{
	2: {clearance.Dims{Dia: 6, Flute: 18, Shank: 6, Stickout: 30, Holder: 24}, 0},
	3: {clearance.Dims{Dia: 3.175, Flute: 10, Shank: 3.175, Stickout: 20, Holder: 24}, 0},
	4: {clearance.Dims{Dia: 6, Flute: 16, Shank: 6, Stickout: 34, Holder: 24}, 3},
	5: {clearance.Dims{Dia: 12, Flute: 26, Shank: 12, Stickout: 40, Holder: 40}, 0},
	6: {clearance.Dims{Dia: 0.4, Flute: 6, Shank: 3.175, Stickout: 25, Holder: 24}, 0},
	8: {clearance.Dims{Dia: 50, Flute: 20, Shank: 22, Stickout: 60, Holder: 50}, 0},
}

var lidSize, plateSize = [3]float64{96, 64, 16}, [3]float64{600, 400, 30}

var kinds = []kindOf{
	{"pocket, far", 3, lidSize, nil},
	{"pocket, near", 3, lidSize, nil},
	{"ball finishing, gentle", 4, lidSize, func(put func(string, ...any), n int) {
		for i, y := 0, 3.0; i < n; y += 0.2 {
			if y > 61 {
				y = 3
			}
			for x := 3.0; x < 93 && i < n; x, i = x+0.3, i+1 {
				put("X%.3f Y%.3f Z%.4f", x, y, -2-0.5*math.Sin(x/10)*math.Cos(y/8))
			}
		}
	}},
	{"flat finishing, steep", 2, lidSize, func(put func(string, ...any), n int) {
		for i, y := 0, 3.0; i < n; y += 0.2 {
			if y > 61 {
				y = 3
			}
			for x := 3.0; x < 93 && i < n; x, i = x+0.25, i+1 {
				put("X%.3f Y%.3f Z%.4f", x, y, -3+2.5*math.Sin(x*2))
			}
		}
	}},
	{"ball finishing, steep", 4, lidSize, func(put func(string, ...any), n int) {
		for i, y := 0, 3.0; i < n; y += 0.2 {
			if y > 61 {
				y = 3
			}
			for x := 3.0; x < 93 && i < n; x, i = x+0.25, i+1 {
				put("X%.3f Y%.3f Z%.4f", x, y, -3+2.5*math.Sin(x*2))
			}
		}
	}},
	{"helices", 3, lidSize, func(put func(string, ...any), n int) {
		for i := 0; i < n; {
			for y := 4.0; y < 60 && i < n; y += 5 {
				for x := 6.0; x < 90 && i < n; x += 5 {
					put("G0 Z1.")
					put("X%.3f Y%.3f", x+1.4, y)
					put("G1 Z0.1")
					for k := range 40 {
						put("G3 X%.3f Y%.3f Z%.3f I-1.4 J0", x+1.4, y, -0.2*float64(k+1))
					}
					i += 43
				}
			}
		}
	}},
	{"trochoids", 3, lidSize, func(put func(string, ...any), n int) {
		for i, level := 0, 1; i < n; level++ {
			for y := 5.0; y < 60 && i < n; y += 6 {
				put("G0 Z2.")
				put("X-4. Y%.3f", y)
				put("G1 Z%.3f", -0.7*float64(level%12+1))
				for x := -4.0; x < 92 && i < n; x, i = x+0.3, i+3 {
					put("G3 X%.3f Y%.3f I0 J1.5", x, y+3)
					put("G3 X%.3f Y%.3f I0 J-1.5", x, y)
					put("G1 X%.3f", x+0.3)
				}
			}
		}
	}},
	{"ramps of a face mill", 8, plateSize, func(put func(string, ...any), n int) {
		for i, z := 0, 0.0; i < n; {
			z -= 0.02
			if z < -8 {
				z = 0
			}
			for y := 0.0; y < 400 && i < n; y, i = y+30, i+2 {
				put("X600 Y%.3f Z%.4f", y, z-0.01)
				put("X0 Y%.3f Z%.4f", y+15, z)
			}
		}
	}},
	{"drilling cycles", 2, plateSize, func(put func(string, ...any), n int) {
		put("G99 G81 X5 Y5 Z-0.5 R2 F200")
		for i := 0; i < n; i++ {
			put("X%.3f Y%.3f", 5+float64(i%118)*5, 5+float64(i/118%78)*5)
		}
		put("G80")
	}},
	{"clearing in arcs at full depth", 5, plateSize, func(put func(string, ...any), n int) {
		for i := 0; i < n; {
			for y := 20.0; y < 380 && i < n; y += 10 {
				put("G0 Z2.")
				put("X20. Y%.3f", y)
				put("G1 Z-10.")
				for x := 20.0; x < 580 && i < n; x, i = x+1, i+4 {
					put("G2 X%.3f Y%.3f R6", x+1, y+5)
					put("G1 X%.3f Y%.3f", x+1.5, y+5)
					put("G2 X%.3f Y%.3f R6", x+2, y)
					put("G1 X%.3f Y%.3f", x+1, y)
				}
			}
		}
	}},
	{"engraving", 6, lidSize, func(put func(string, ...any), n int) {
		for i := 0; i < n; {
			for k := range 300 {
				a := float64(i) * 0.11
				put("X%.3f Y%.3f", 48+40*math.Sin(a/7)+math.Cos(a), 32+25*math.Cos(a/5.3)+math.Sin(a))
				if i++; k == 299 {
					put("G0 Z1.")
					put("G1 Z-0.1")
				}
			}
		}
	}},
	{"facing of a large plate, short moves", 8, plateSize, func(put func(string, ...any), n int) {
		for i, level := 0, 1; i < n; level++ {
			put("Z%.3f", -0.3*float64(level))
			for y := 0.0; y < 400 && i < n; y += 20 {
				for x := 0.0; x <= 600 && i < n; x, i = x+2, i+1 {
					put("X%.3f Y%.3f", x, y)
				}
			}
		}
	}},
}

// writeKind writes a program of about n lines.
func writeKind(w io.Writer, k *kindOf, n int) error {
	if k.write == nil {
		near := 0.0
		if k.name == "pocket, near" {
			near = 0.1
		}
		return generate(w, n, near)
	}
	b := bufio.NewWriterSize(w, 1<<16)
	put := func(f string, a ...any) { fmt.Fprintf(b, f+"\n", a...) }
	put("%%\nG21 G17 G90 G94 G40 G49 G80\nG54\nT%d M6\nS9000 M3\nG43 H%d G0 Z30.\nX3. Y3.\nZ2.\nG1 Z0.5 F400", k.tool, k.tool)
	k.write(put, n)
	put("G0 Z30.\nM5\nM30\n%%")
	return b.Flush()
}

// expectKind is what a kind is held against.
func expectKind(k *kindOf) Expect {
	e := expectBench()
	floor := -1000.0
	e.Floor = &floor
	e.Part = &Cuboid{Min: [3]float64{0, 0, -k.part[2]}, Max: [3]float64{k.part[0], k.part[1], 0}}
	e.Travel, e.Placed = nil, nil
	e.Tools = map[int]Tool{}
	t := benchTools[k.tool]
	c, err := clearance.NewTool("", t.d)
	if err != nil {
		panic(err)
	}
	e.Tools[k.tool] = Tool{Length: 76, Radius: t.d.Dia / 2, Corner: t.corner, Body: body(c)}
	e.Carries = func(c Cut) float64 { return 1.06 * math.Sqrt(t.d.Dia/min(c.Width, t.d.Dia)) }
	return e
}

// body is the part of a tool above its cutting edges.
func body(t clearance.Tool) []clearance.Cylinder {
	if p := t.Parts(); len(p) > 0 {
		return p[1:]
	}
	return nil
}

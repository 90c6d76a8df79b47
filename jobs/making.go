package jobs

import (
	"fmt"
	"math"
	"slices"
	"strconv"
)

// returned checks a fixture that comes back.
func (r *reader) returned(j *Job, s Setup, path string) {
	if !slices.Contains([]string{"probe", "edge finder"}, s.Finds) {
		r.fault(path+".finds", "bores are touched from their sides, and "+strconv.Quote(s.Finds)+" does not", "find with probe or edge finder")
	}
	if j.Fixture.AsMade.Bore2 == nil || j.Fixture.AsMade.Bore.Kind != "bore" {
		r.fault(path+".fixture", "growth is told by two bores, and the fixture card has none", "add bore2 under as-made of the fixture card")
	}
	if j.Machine.Dial.Graduation == 0 {
		r.fault(path+".kind", "edge and fit are read with a dial, and the machine card has none", "add dial to the machine card")
	}
}

// making checks what a fixture in the making says together.
func (r *reader) making(j *Job, s Setup, path string) {
	m := s.Make
	if _, ok := j.Tools[m.Tool]; m.Tool > 0 && !ok {
		r.fault(path+".make.tool", fmt.Sprintf("tool %d is not in the tool list", m.Tool), "add it under tools, or name one that is there")
	}
	if t := j.Tools[m.Tool]; t.Dia > 0 && m.Bore > 0 && t.Dia >= m.Bore {
		r.fault(path+".make.bore", fmt.Sprintf("%s is cut by helix with a tool of %s", shown(j, m.Bore), shown(j, t.Dia)),
			"take a smaller finisher, or a larger bore")
	}
	if r.has(path+".make.bore2") && m.Bore2 == (Point{}) {
		r.fault(path+".make.bore2", "the second bore stands on the first", "give its place from bore 1")
	}
	if u := j.Fixture.AsMade.Floor.Under + j.Fixture.AsMade.Floor.Depth; m.Blank > 0 && u > m.Blank+1e-6 {
		r.fault(path+".make.blank", fmt.Sprintf("depth and floor of the card are %s together, the blank %s", shown(j, u), shown(j, m.Blank)),
			"look at floor under as-made of the fixture card")
	}
	if b := j.Fixture.AsMade.Bore.Kind; b != "" && b != "bore" {
		r.fault(path+".fixture", "a bore measures the cutter, and the fixture card has a "+b, "make a fixture with two bores")
	}
	if !slices.Contains([]string{"probe", "edge finder"}, s.Finds) {
		r.fault(path+".finds", "pads are touched from the side, and "+strconv.Quote(s.Finds)+" does not", "find with probe or edge finder")
	}
	if j.Machine.Dial.Graduation == 0 {
		r.fault(path+".kind", "edge and spring are read with a dial, and the machine card has none", "add dial to the machine card")
	}
	if !r.has("part") {
		r.fault("", "key \"part\" is missing, needed by setup "+quote(s.Name), "add part: {size: [length, width, thickness], material: NAME}")
	}
	if len(m.Pads) == 3 {
		r.pads(j, s, path)
	}
}

// pads checks that three pads hold a part: two on one wall apart from each other, one on a wall across.
func (r *reader) pads(j *Job, s Setup, path string) {
	along := func(w string) bool { return w == "left" || w == "right" }
	walls := map[string][]Point{}
	for _, p := range s.Make.Pads {
		walls[p.Wall] = append(walls[p.Wall], p.At)
	}
	across, two := 0, false
	for w, ps := range walls {
		if along(w) {
			across++
		}
		if len(ps) != 2 {
			continue
		}
		two = true
		apart, off := math.Abs(ps[0].X-ps[1].X), math.Abs(ps[0].Y-ps[1].Y)
		if along(w) {
			apart, off = off, apart
		}
		if apart < 5 {
			r.fault(path+".make.pads", fmt.Sprintf("the pads on the %s wall are %s apart", w, shown(j, apart)),
				"set them as far apart as the part is straight")
		}
		if off > 0.01 {
			r.fault(path+".make.pads", fmt.Sprintf("the pads on the %s wall are not in one line, off by %s", w, shown(j, off)),
				"give both the same face")
		}
	}
	if len(walls) != 2 || across != 1 || !two {
		r.fault(path+".make.pads", "three pads that do not hold a part", "two on one wall, one on a wall across")
	}
	for _, o := range j.Setups {
		for _, w := range o.Against {
			if walls[w] == nil {
				r.fault(path+".make.pads", fmt.Sprintf("%s is pushed against %s, and no pad stands there", o.Name, w),
					"put a pad there, or push the part to the pads")
			}
		}
	}
}

package bench

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// tip is what touches from the side: the probe's ball, or the edge finder's cylinder.
type tip struct {
	rx, ry float64 // radius at the trigger, found along the axes: half the lost motion is in it
	lobes  float64 // amplitude of three lobes
	lobeAt float64
	noise  float64
	ecc    xy // where it stands from the spindle's axis
}

// trigger is the radius at which the tip trips, moving in a direction.
func (w *World) trigger(by *tip, dir xy) float64 {
	a := math.Atan2(dir.y, dir.x)
	return by.rx*dir.x*dir.x + by.ry*dir.y*dir.y + w.Effects.Backlash/2 - by.lobes*math.Cos(3*(a-by.lobeAt))
}

// lag is what the readout shows beyond where the spindle stands, coming from a
// side: half the lost motion of each axis that moves.
func (w *World) lag(dir xy) xy {
	half := func(d float64) float64 {
		switch {
		case d > 1e-9:
			return w.Effects.Backlash / 2
		case d < -1e-9:
			return -w.Effects.Backlash / 2
		}
		return 0
	}
	return xy{half(dir.x), half(dir.y)}
}

// report is what the readout shows of a spindle that stands at p after moving in dir.
func (w *World) report(by *tip, p, dir xy) xy {
	m := w.shown(p).add(w.lag(dir)).add(dir.times(w.gauss(by.noise)))
	return xy{roundTo(m.x, w.Effects.Readout), roundTo(m.y, w.Effects.Readout)}
}

// inRing is the spindle at the trigger on a circle about c: from about its middle
// outward, or from outside a pin inward. chip is how far the wall stands out there.
func (w *World) inRing(by *tip, c xy, radius float64, deg float64, outside bool, chip float64) xy {
	d := toward(deg)
	ball := by.ecc
	if !outside {
		reach := radius - chip - w.trigger(by, d)
		return w.report(by, meet(c.sub(ball), reach, w.from(c), d), d)
	}
	in := d.times(-1)
	reach := radius + chip + w.trigger(by, in)
	start := c.add(d.times(2 * reach)).add(w.from(xy{}))
	return w.report(by, meet2(c.sub(ball), reach, start, in), in)
}

// from is about where the person starts a hit: jogged to the middle by eye.
func (w *World) from(c xy) xy {
	return c.add(xy{w.gauss(20 * w.Effects.Noise), w.gauss(20 * w.Effects.Noise)})
}

// meet is where the ray from inside a circle leaves it; meet2 where one from
// outside enters it, or its nearest place when it misses.
func meet(c xy, radius float64, from, dir xy) xy {
	along, across := dir.dot(c.sub(from)), (c.x-from.x)*dir.y-(c.y-from.y)*dir.x
	return from.add(dir.times(along + math.Sqrt(max(radius*radius-across*across, 0))))
}

func meet2(c xy, radius float64, from, dir xy) xy {
	along, across := dir.dot(c.sub(from)), (c.x-from.x)*dir.y-(c.y-from.y)*dir.x
	return from.add(dir.times(along - math.Sqrt(max(radius*radius-across*across, 0))))
}

// onFace is the spindle at the trigger on a face of the part, coming along an axis.
func (w *World) onFace(by *tip, face string, at float64, dir xy) (xy, error) {
	var a, b xy        // two places of the face, its material on the left of a to b
	if w.part.turned { // what stands there is the face across
		long := w.size.y
		if face == "part-front" || face == "part-rear" {
			long = w.size.x
		}
		at, face = long-at, map[string]string{"part-left": "part-right", "part-right": "part-left", "part-front": "part-rear",
			"part-rear": "part-front"}[face]
	}
	switch face {
	case "part-left":
		a, b = xy{0, w.size.y}, xy{0, 0}
		at = w.size.y - at
	case "part-right":
		a, b = xy{w.size.x, 0}, xy{w.size.x, w.size.y}
	case "part-front":
		a, b = xy{0, 0}, xy{w.size.x, 0}
	case "part-rear":
		a, b = xy{w.size.x, w.size.y}, xy{0, w.size.y}
		at = w.size.x - at
	default:
		return xy{}, fmt.Errorf("bench: the part has no face %q", face)
	}
	pa, pb := w.onPart(a), w.onPart(b)
	t := pb.sub(pa).times(1 / pb.sub(pa).long())
	out := xy{t.y, -t.x}
	if out.dot(dir) >= -0.5 {
		return xy{}, fmt.Errorf("bench: %s can't be touched moving %v", face, dir)
	}
	// The ball's centre stands off by its radius when it trips; it moves along dir.
	r := w.trigger(by, dir)
	aim := pa.add(t.times(at)).sub(dir.times(10))
	gap := aim.add(by.ecc).sub(pa).dot(out) - r
	return w.report(by, aim.add(dir.times(gap/-out.dot(dir))), dir), nil
}

// height is the machine Z at the trigger on a thing with a place, and the physical height touched.
func (w *World) height(of, at string) (z float64, err error) {
	p, err := place(at)
	if err != nil {
		return 0, err
	}
	if z, ok := w.stockHeight(of, at); ok {
		return z, nil
	}
	switch of {
	case "floor":
		if w.hand.seated {
			return 0, fmt.Errorf("bench: the part lies on the floor at %s: it can't be touched; take the part out first", at)
		}
		z = w.floor.at(p) + w.roughness("floor "+at)
	case "rim":
		r := w.card.AsMade.Rim
		if w.rim > 0 {
			r = w.rim
		}
		if r == 0 {
			r = w.card.AsMade.Floor.Depth
		}
		z = w.floor.at(p) + r + w.roughness("rim "+at)
	case "part-top":
		z = w.partTop(p) + w.roughness("top "+at)
	default:
		return 0, fmt.Errorf("bench: nothing called %q has a height", of)
	}
	if g := w.onTable(); g != nil {
		z += g.rise(of, p)
		if of == "rim" {
			z += g.rim
		}
	}
	if w.cut != nil {
		z += w.cut.rise(of, p)
	}
	if g := w.fromBox(); g != nil {
		z += g.rise(of, p)
	}
	return z, nil
}

// roughness is the surface's own height at a place: the same at each touch.
func (w *World) roughness(at string) float64 {
	if w.Effects.FloorForm == 0 {
		return 0
	}
	return w.Effects.FloorForm * w.lot.stream(at).NormFloat64()
}

// place reads the numbers after an @.
func place(at string) (xy, error) {
	a, b, _ := strings.Cut(at, ",")
	x, err := strconv.ParseFloat(a, 64)
	if err != nil {
		return xy{}, fmt.Errorf("bench: %q is no place", at)
	}
	y := 0.0
	if b != "" {
		if y, err = strconv.ParseFloat(b, 64); err != nil {
			return xy{}, fmt.Errorf("bench: %q is no place", at)
		}
	}
	return xy{x, y}, nil
}

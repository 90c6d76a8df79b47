package pen

import (
	"math"
	"slices"
	"strconv"

	"fliptrue/calc/chart"
	"fliptrue/steps/fold"
)

// largest is the largest magnitude of values.
func largest(vs ...float64) float64 {
	m := 0.0
	for _, v := range vs {
		m = max(m, math.Abs(v))
	}
	return m
}

// Run draws an indicator run in the band of its limit: readings from where the fitted line begins, AWAY or RIGHT up.
// rise and limit are its numbers as printed.
func Run(r *fold.RunPlot, w, h float64, rise, limit Number) Drawing {
	d := Drawing{W: w, H: h, What: "readings along the edge"}
	n := min(len(r.At), len(r.Reading), len(r.Fitted))
	if n < 2 {
		return d
	}
	k, up, down := r.Scale, "AWAY", "TOWARD YOU"
	switch {
	case k == 0:
		k, up, down = 1, "needle +", "needle -"
	case r.Ends[0] == "NEAR":
		up, down = "RIGHT", "LEFT"
	}
	ys, fs := make([]float64, n), make([]float64, n)
	for i := range n {
		ys[i], fs[i] = k*(r.Reading[i]-r.Fitted[0]), k*(r.Fitted[i]-r.Fitted[0])
	}
	const side = 12.5 * letter
	x0, x1, mid := side, w-side, h/2-0.5*Size
	most := largest(append(append([]float64{}, ys...), fs...)...)
	end := chart.Scale(r.Limit, most)
	if end == 0 {
		end = 1
	}
	y := func(v float64) float64 { return mid - v/end*(mid-0.4) }
	x := func(v float64) float64 { return x0 + (v-r.At[0])/(r.At[n-1]-r.At[0])*(x1-x0) }
	if r.Limit > 0 && r.Limit < 1e9 {
		d.stroke("band", rect(x0, y(r.Limit), x1, y(-r.Limit)))
		d.stroke("limit", line(false, pt{x0, y(r.Limit)}, pt{x1, y(r.Limit)})+line(false, pt{x0, y(-r.Limit)}, pt{x1, y(-r.Limit)}))
		d.number(x1+0.8, y(r.Limit)+0.35*Size, "start", "way", limit)
	}
	d.stroke("axis", line(false, pt{x0, y(0)}, pt{x1, y(0)}))
	var fitted []pt
	for i := range n {
		fitted = append(fitted, pt{x(r.At[i]), y(fs[i])})
	}
	d.stroke("line", line(false, fitted...))
	for i := range n {
		if i == r.Suspect {
			d.stroke("suspect", circle(x(r.At[i]), y(ys[i]), 1.2))
		}
		d.stroke("dot", circle(x(r.At[i]), y(ys[i]), 0.6))
	}
	d.say(x0-0.8, Size, "end", "way", up)
	d.say(x0-0.8, h-1.3*Size, "end", "way", down)
	d.say(x0, h-0.3, "start", "way", r.Ends[0])
	d.say(x1, h-0.3, "end", "way", r.Ends[1])
	d.number(x1+0.8, y(fs[n-1])+0.35*Size+shifted(y(fs[n-1]), y(r.Limit)), "start", "strong", rise)
	return d
}

// shifted moves a number off another that stands at its height.
func shifted(at, other float64) float64 {
	if math.Abs(at-other) < 1.2*Size {
		return other - at + 1.3*Size
	}
	return 0
}

// Ring draws a circle's hits off it, magnified, in the band of the limit.
func Ring(r *fold.RingPlot, w, h float64, most, limit Number) Drawing {
	d := Drawing{W: w, H: h, What: "hits off the circle, magnified"}
	n := min(len(r.Angle), len(r.Residual))
	room := h - 2*1.4*Size
	cx, cy, radius := w/2, room/2, (min(w, room)/2-1.4*Size)/1.42
	end := chart.Scale(r.Limit, largest(r.Residual[:n]...))
	if end == 0 {
		end = 1
	}
	k := 0.42 * radius / end
	if r.Limit > 0 && r.Limit < 1e9 {
		d.stroke("band", circle(cx, cy, radius+k*r.Limit)+circle(cx, cy, radius-k*r.Limit))
		d.stroke("limit", circle(cx, cy, radius+k*r.Limit)+circle(cx, cy, radius-k*r.Limit))
	}
	d.stroke("axis", circle(cx, cy, radius)+line(false, pt{cx - 1, cy}, pt{cx + 1, cy})+line(false, pt{cx, cy - 1}, pt{cx, cy + 1}))
	for i := range n {
		sin, cos := math.Sincos(r.Angle[i])
		at := radius + k*r.Residual[i]
		x, y := cx+at*cos, cy-at*sin
		if i == r.Suspect {
			d.stroke("suspect", circle(x, y, 1.2))
		}
		d.stroke("dot", circle(x, y, 0.6))
		if n <= 24 {
			out := radius + k*end + 0.9*Size
			d.say(cx+out*cos, cy-out*sin+0.35*Size, "middle", "way", strconv.Itoa(i+1))
		}
	}
	d.caption(h-1.2*Size, "largest", most)
	d.caption(h-0.1*Size, "band: limit", limit)
	return d
}

// caption is a word and a number in the middle of a line.
func (d *Drawing) caption(y float64, text string, n Number) {
	if n.Text == "" {
		return
	}
	a, b := float64(len([]rune(text))), float64(len([]rune(n.Text)))
	x := d.W/2 + (a-b)/2*letter*0.9
	d.say(x-0.4, y, "end", "way", text)
	d.number(x+0.4, y, "start", "strong", n)
}

// Tilt draws touches of a face from above with what each is off the plane through them, printed.
func Tilt(t *fold.TiltPlot, w, h float64, off []Number, tilt, limit Number) Drawing {
	d := Drawing{W: w, H: h, What: "heights off a plane, from above"}
	n := min(len(t.Points), len(off))
	if n == 0 {
		return d
	}
	lo, hi, _ := Bounds([]fold.Shape{{Points: t.Points[:n]}})
	const side, foot = 9 * letter, 2.6 * Size
	v := fit(lo, hi, side, 1.8*Size, w-2*side, h-1.8*Size-foot-Size)
	a, b := v.at(fold.XY{X: lo.X, Y: hi.Y}), v.at(fold.XY{X: hi.X, Y: lo.Y})
	d.stroke("axis", rect(a.x, a.y, b.x, b.y))
	for i := range n {
		c := v.at(t.Points[i])
		if i == t.Suspect {
			d.stroke("suspect", circle(c.x, c.y, 1.2))
		}
		d.stroke("dot", circle(c.x, c.y, 0.6))
		switch f := (c.x - a.x) / max(b.x-a.x, 1e-9); { // beside it at the sides, above it in the middle
		case f < 0.2:
			d.number(c.x-1, c.y+0.35*Size, "end", "strong", off[i])
		case f > 0.8:
			d.number(c.x+1, c.y+0.35*Size, "start", "strong", off[i])
		default:
			d.number(c.x, c.y-0.45*Size, "middle", "strong", off[i])
		}
	}
	if s := math.Hypot(t.TiltX, t.TiltY); s > 0 {
		m := pt{(a.x + b.x) / 2, a.y + 0.76*(b.y-a.y)} // off the middle, where a touch often is
		l := 0.18 * min(b.x-a.x, b.y-a.y)
		ux, uy := t.TiltX/s*l, -t.TiltY/s*l
		d.stroke("arrow", arrow(pt{m.x - ux, m.y - uy}, pt{m.x + ux, m.y + uy}, 1.6))
	}
	d.caption(h-1.2*Size, "arrow: up, by", tilt)
	d.caption(h-0.1*Size, "limit", limit)
	return d
}

// Target draws where a feature lies against what is allowed, with its interval.
type Target struct {
	Allowed, X, Y, UX, UY float64 // mm
	Limit                 Number
}

func (t Target) Draw(w, h float64) Drawing {
	d := Drawing{W: w, H: h, What: "part's feature minus where the tool cuts, in the ring of what is allowed"}
	r := min(w, h)/2 - 0.5
	cx, cy := w/2, h/2
	out := t.Allowed
	if far := max(math.Abs(t.X)+t.UX, math.Abs(t.Y)+t.UY); far > out {
		out = chart.Scale(t.Allowed, far)
	}
	if !(out > 0) {
		return d
	}
	k := r / out
	d.stroke("axis", line(false, pt{cx - r, cy}, pt{cx + r, cy})+line(false, pt{cx, cy - r}, pt{cx, cy + r}))
	d.stroke("allowed", circle(cx, cy, k*t.Allowed))
	d.stroke("interval", ellipse(cx+k*t.X, cy-k*t.Y, max(k*t.UX, 0.2), max(k*t.UY, 0.2)))
	d.stroke("dot", circle(cx+k*t.X, cy-k*t.Y, 0.6))
	d.number(cx+0.72*k*t.Allowed, max(cy-0.78*k*t.Allowed, Size), "start", "way", t.Limit)
	return d
}

// Trend draws one number over the uses of a fixture, the newest last, against its limit (0 for none). A gap is NaN.
func Trend(vs []float64, limit, w, h float64) Drawing {
	d := Drawing{W: w, H: h, What: "over the uses of this fixture"}
	known := slices.DeleteFunc(slices.Clone(vs), math.IsNaN)
	if len(known) == 0 {
		return d
	}
	lo, hi := slices.Min(known), slices.Max(known)
	if limit > 0 {
		lo, hi = min(lo, 0), max(hi, limit)
		if slices.Min(known) < 0 {
			lo = min(lo, -limit)
		}
	}
	if hi-lo < 1e-9 {
		lo, hi = lo-1e-3, hi+1e-3
	}
	y := func(v float64) float64 { return h - 1 - (v-lo)/(hi-lo)*(h-2) }
	step := (w - 3) / float64(max(len(vs)-1, 1))
	if limit > 0 {
		d.stroke("limit", line(false, pt{0, y(limit)}, pt{w, y(limit)}))
		if lo <= -limit {
			d.stroke("limit", line(false, pt{0, y(-limit)}, pt{w, y(-limit)}))
		}
	}
	if lo <= 0 && hi >= 0 {
		d.stroke("axis", line(false, pt{0, y(0)}, pt{w, y(0)}))
	}
	var ps []pt
	for i, v := range vs {
		if math.IsNaN(v) {
			continue
		}
		x := 1.5 + float64(i)*step
		if len(vs) == 1 {
			x = w - 1.5
		}
		ps = append(ps, pt{x, y(v)})
	}
	d.stroke("line", line(false, ps...))
	for i, p := range ps {
		r := 0.5
		if i == len(ps)-1 {
			r = 0.9
		}
		d.stroke("dot", circle(p.x, p.y, r))
	}
	return d
}

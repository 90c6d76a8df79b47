package outside

import "fliptrue/jobs"

// Truth is how a feature truly came out.
type Truth struct {
	Name   string
	X, Y   float64 // where the part's feature stands minus where the tool cuts for it, mm
	Height float64 // the cutter's tip over where the program puts it, from the part's seat, mm
}

// truths are those of the listed features, as the control holds its offset now. The two sides
// meet half way up the part; the cut comes from either side of the screws' lash.
func (w *World) truths() []Truth {
	var out []Truth
	for _, f := range w.job.Part.Features {
		t := w.part(f.At).minus(w.tool(f))
		out = append(out, Truth{f.Name, t.X, t.Y, w.height(f.At)})
	}
	return out
}

func (w *World) part(at jobs.Point) Vec { return w.onTable(w.feature(at, w.job.Part.Size[2]/2)) }

// tool is where the spindle's axis stands when the program drives to a feature.
func (w *World) tool(f jobs.Feature) Vec {
	read := w.keyed.plus(Vec{f.At.X, f.At.Y, 0})
	half := w.lash() / 2
	for i, to := range []*float64{&read.X, &read.Y} {
		if w.coin("cut " + f.Name + string(rune('x'+i))) {
			*to -= half
		} else {
			*to += half
		}
	}
	return w.now.stands(read).plus(w.drift)
}

// height is how high the cutter's tip stands over the finished face that the program cuts.
func (w *World) height(at jobs.Point) float64 {
	t := w.job.Part.Size[2]
	z := t
	if w.setup.Z0 != "floor" {
		z = 0
	}
	return w.tip(w.setup.Cut.Tool, at.X, at.Y, z).Z - w.growth - w.onTable(w.solid(Vec{at.X, at.Y, 0})).Z - t
}

// tip is where a tool's tip stands at a place of the program.
func (w *World) tip(n int, x, y, z float64) Vec {
	at := w.now.stands(w.keyed.plus(Vec{x, y, z + w.typed(n)})).plus(w.drift.times(w.spent))
	return at.minus(Vec{Z: w.tools[n]})
}

// gap is the room under a tip where it was jogged to, over the uncut top.
func (w *World) gap(n int, x, y float64) float64 { return w.tip(n, x, y, w.jogged).Z - w.topAt(x, y).Z }

// typed is a tool's length as the control holds it.
func (w *World) typed(n int) float64 {
	return w.round(w.tools[n] + w.Sizes["cutter-length"]*w.pure("cutter-length "+string(rune('0'+n%10))))
}

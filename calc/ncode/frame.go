package ncode

import "math"

// frame takes program coordinates to W: the shifts of G92 and G52, and the rotation of G68.
type frame struct {
	g92, g52 [3]float64
	saved    [3]float64 // of G92.2, for G92.3
	unknown  uint8      // axes whose shift is not known, bits as in Move.Known
	shift    [3]float64 // g92 + g52
	rotated  bool
	sin, cos float64
	ca, cb   float64 // rotation centre, program coordinates
	same     bool    // program coordinates are W
}

func (f *frame) update() {
	for i := range 3 {
		f.shift[i] = f.g92[i] + f.g52[i]
	}
	f.same = !f.rotated && f.shift == [3]float64{} && f.unknown == 0
}

// out returns W of the program place p; known are the axes of p that are known.
func (f *frame) out(p [3]float64, known uint8) ([3]float64, uint8) {
	if f.same {
		return p, known
	}
	if f.rotated {
		if known&3 != 3 {
			known &^= 3
		}
		u, v := p[0]-f.ca, p[1]-f.cb
		p[0] = f.ca + (float64(u*f.cos) - float64(v*f.sin))
		p[1] = f.cb + (float64(u*f.sin) + float64(v*f.cos))
	}
	known &^= f.unknown
	for i := range 3 {
		p[i] += f.shift[i]
	}
	return clear3(p, known), known
}

// in is the inverse of out.
func (f *frame) in(w [3]float64, known uint8) ([3]float64, uint8) {
	if f.same {
		return w, known
	}
	known &^= f.unknown
	for i := range 3 {
		w[i] -= f.shift[i]
	}
	if f.rotated {
		if known&3 != 3 {
			known &^= 3
		}
		u, v := w[0]-f.ca, w[1]-f.cb
		w[0] = f.ca + (float64(u*f.cos) + float64(v*f.sin))
		w[1] = f.cb + (float64(v*f.cos) - float64(u*f.sin))
	}
	return clear3(w, known), known
}

// clear3 sets to 0 what is not known.
func clear3(p [3]float64, known uint8) [3]float64 {
	for i := range 3 {
		if known&(1<<i) == 0 {
			p[i] = 0
		}
	}
	return p
}

// rotate turns the frame about (ca, cb).
func (f *frame) rotate(rad, ca, cb float64) {
	f.rotated, f.ca, f.cb = true, ca, cb
	f.sin, f.cos = math.Sincos(rad)
	f.update()
}

// toMachine returns M of the W place; length is that of the tool that G43 has called.
func (p *Placement) toMachine(w [3]float64, length float64) [3]float64 {
	sin, cos := math.Sincos(p.Rotation)
	return [3]float64{
		p.Offset[0] + (float64(cos*w[0]) - float64(sin*w[1])),
		p.Offset[1] + (float64(sin*w[0]) + float64(cos*w[1])),
		p.Offset[2] + length + w[2],
	}
}

// fromMachine is the inverse of toMachine.
func (p *Placement) fromMachine(m [3]float64, length float64) [3]float64 {
	sin, cos := math.Sincos(p.Rotation)
	x, y := m[0]-p.Offset[0], m[1]-p.Offset[1]
	return [3]float64{float64(cos*x) + float64(sin*y), float64(cos*y) - float64(sin*x), m[2] - p.Offset[2] - length}
}

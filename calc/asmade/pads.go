package asmade

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/given"
)

// PadsAgree is how far a pad may be probed off what the bore predicts, mm. Common practice.
const PadsAgree = 0.005

// Pad is one datum pad: the wall of the pocket that it belongs to, and where the program put
// its face, from bore 1, along the wall's axis.
type Pad struct {
	Wall       frame.Wall
	Programmed float64
	U          float64 // standard uncertainty of its place against the bore: how the machine repeats; 0: not counted
}

// Stands is where the face stands: further into the pocket by small.
//
//	LEFT, TOWARD: programmed + small      RIGHT, AWAY: programmed - small
func (p Pad) Stands(small float64) float64 { return p.Programmed - p.sign()*small }

// sign is that of the way from inside the pocket to the pad.
func (p Pad) sign() float64 {
	d := p.Wall.Dir()
	return d.X + d.Y
}

func (p Pad) alongX() bool { return p.Wall == frame.Left || p.Wall == frame.Right }

// Probed is where one hit finds the pad, from bore 1: moving towards it, machine coordinates,
// ball radius r, corrected by eccentricity and by the machine's part of the bore's bias.
func (p Pad) Probed(hit, r float64, b Bore) float64 {
	way := map[frame.Wall]fit.Direction{frame.Left: fit.XMinus, frame.Right: fit.XPlus, frame.Toward: fit.YMinus,
		frame.Away: fit.YPlus}[p.Wall]
	at, machine := fit.Surface(hit, r, way), b.At.Sub(b.Programmed).Sub(b.Eccentricity)
	if p.alongX() {
		return at - b.Eccentricity.X - b.Programmed.X - machine.X
	}
	return at - b.Eccentricity.Y - b.Programmed.Y - machine.Y
}

// Off is a probed pad less its prediction, mm. A wrong ball radius is in both and cancels:
// two pads in agreement say nothing about it.
func (p Pad) Off(probed, small float64) float64 { return probed - p.Stands(small) }

// Place is the part zero of a part pushed against two pads, from bore 1.
type Place struct {
	V   frame.Vec
	Cov frame.Cov2
}

// Places finds the part zero, the part's lower left corner.
//
//	against LEFT: pad face          against RIGHT: pad face - width X
//	against TOWARD: pad face        against AWAY: pad face - width Y
//
// width and uWidth are the part's along X and Y, as side 1 left it. Small is common to both
// pads: on LEFT and AWAY the two axes go against each other, and their covariance is -u²; the pads' own U are each for itself. x is
// LEFT or RIGHT, y TOWARD or AWAY; anything else is an error. c.USmall is in both.
func Places(x, y Pad, c Cut, width, uWidth frame.Vec) (Place, error) {
	if !x.alongX() || y.alongX() {
		return Place{}, fmt.Errorf("pads %s and %s do not meet; take one of left, right and one of toward, away", x.Wall, y.Wall)
	}
	if err := given.Above("width X", width.X, "width Y", width.Y); err != nil {
		return Place{}, err
	}
	if err := given.Finite("pad X", x.Programmed, "pad Y", y.Programmed, "small", c.Small); err != nil {
		return Place{}, err
	}
	p := Place{V: frame.Vec{X: x.Stands(c.Small), Y: y.Stands(c.Small)}}
	u2 := c.USmall * c.USmall
	both := u2 * x.sign() * y.sign()
	p.Cov = frame.Cov2{{u2 + x.U*x.U, both}, {both, u2 + y.U*y.U}}
	if x.Wall == frame.Right {
		p.V.X -= width.X
		p.Cov[0][0] += uWidth.X * uWidth.X
	}
	if y.Wall == frame.Away {
		p.V.Y -= width.Y
		p.Cov[1][1] += uWidth.Y * uWidth.Y
	}
	return p, nil
}

// Turn is the standard uncertainty of the turn of a part against two pads, rad, each contact
// known to u, their spacing apart along the wall.
//
//	√2 u/spacing
func Turn(u, spacing float64) (float64, error) {
	if err := given.Above("spacing of the pads", spacing); err != nil {
		return 0, err
	}
	return math.Sqrt2 * math.Abs(u) / spacing, nil
}

// TaperMost is the most that a pad may lean over the depth of the part, mm: beyond it the
// part rides on the lean. Common practice.
const TaperMost = 0.010

// Taper is how far a pad leans into the pocket over a height, from two hits on it: lower is
// the place of the face at lowZ, upper at highZ, from bore 1 as Probed gives them. Positive: the
// pad is narrower below.
func (p Pad) Taper(lower, upper, lowZ, highZ, height float64) (float64, error) {
	if lowZ == highZ {
		return 0, fmt.Errorf("both hits on the pad are at height %g; take them at different heights", lowZ)
	}
	return p.sign() * (upper - lower) / (highZ - lowZ) * height, nil
}

package inspect

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/given"
)

// MiddleWithin is how far from the middle of a face a step may be taken where the turn is not
// asked, mm: farther out a turn would pass for a shift. Common practice.
const MiddleWithin = 2.0

// Step is the step across the parting line at a place of an outer face: side 2 less side 1,
// positive where side 2 stands further out.
type Step struct {
	Face   fit.Direction // the way the face looks
	Along  float64       // along the face from the part's middle: Y on X faces, X on Y faces
	Height float64
	U      float64 // standard uncertainty; 0 takes StepU
}

// Hole is a feature cut from side 2 whose place was measured from faces of side 1.
type Hole struct {
	At   frame.Vec // from the part's middle
	Axis fit.Axis  // AxisX or AxisY
	Off  float64   // measured less nominal, along + of the axis
	U    float64   // standard uncertainty; 0 takes HoleU
}

// Standard uncertainties of one reading, mm: a dial to half a graduation of 0.005 and its
// repeat; a pin and a calliper. Common practice, from memory.
const (
	StepU = 0.003
	HoleU = 0.015
)

// StepUOf is that of a step read with a dial of that graduation: StepU at 0.005, the dial's own share
// (half a graduation as a rectangle) exchanged.
func StepUOf(graduation float64) float64 {
	share := func(g float64) float64 { return g * g / 12 }
	return math.Sqrt(StepU*StepU - share(0.005) + share(graduation))
}

// FeelerHalf is the half-width of a feeler's thickness up to 0.10, mm (DIN 2275; from memory), DialRepeat how a dial repeats over
// it, one standard deviation (common practice).
const (
	FeelerHalf = 0.005
	DialRepeat = 0.001
)

// Lever is what a dial shows of a way: its stylus at an angle shows more or less of each step, all in one ratio.
type Lever struct {
	K float64 // shown over true
	U float64 // standard uncertainty of K, as a share of it
}

// ToLever takes it from what the dial shows over a feeler.
//
//	k = shown/feeler      u(k)/k = √((u shown/shown)² + (u feeler/feeler)²)
//
// A dial that shows nothing, or the other way, has none: an error.
func ToLever(shown, feeler, graduation float64) (Lever, error) {
	if err := given.Above("dial over the feeler", shown, "feeler", feeler); err != nil {
		return Lever{}, err
	}
	dial := math.Hypot(graduation/math.Sqrt(12), DialRepeat)
	return Lever{K: shown / feeler, U: math.Hypot(dial/shown, FeelerHalf/math.Sqrt(3)/feeler)}, nil
}

// columns of the full model.
const (
	colX, colY, colTurn, colSize, colSquare = 0, 1, 2, 3, 4
)

// row is the model of a step:
//
//	X+ : dx - w y + s + κ y      X- : -dx + w y + s - κ y
//	Y+ : dy + w x + s            Y- : -dy - w x + s
func (s Step) row() ([]float64, error) {
	if err := given.Finite("step", s.Height, "place of a step", s.Along); err != nil {
		return nil, err
	}
	c := s.Along
	switch s.Face {
	case fit.XPlus:
		return []float64{1, 0, -c, 1, c}, nil
	case fit.XMinus:
		return []float64{-1, 0, c, 1, -c}, nil
	case fit.YPlus:
		return []float64{0, 1, c, 1, 0}, nil
	case fit.YMinus:
		return []float64{0, -1, -c, 1, 0}, nil
	}
	return nil, fmt.Errorf("a step is taken on a face that looks along X or Y, not %d; choose the face", s.Face)
}

// row is the model of a hole: dx - w y + κ y along X, dy + w x along Y; the size is not in it.
func (h Hole) row() ([]float64, error) {
	if err := given.Finite("place of a hole", h.Off, "hole X", h.At.X, "hole Y", h.At.Y); err != nil {
		return nil, err
	}
	switch h.Axis {
	case fit.AxisX:
		return []float64{1, 0, -h.At.Y, 0, h.At.Y}, nil
	case fit.AxisY:
		return []float64{0, 1, h.At.X, 0, 0}, nil
	}
	return nil, fmt.Errorf("a hole is measured along X or Y, not %d; choose the axis", h.Axis)
}

// off is how far a reading lies from the middle line, where a turn would enter it.
func off(row []float64) float64 { return math.Abs(row[colTurn]) }

func orElse(v, preset float64) float64 {
	if v == 0 {
		return preset
	}
	return v
}

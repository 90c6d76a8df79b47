package rescue

import (
	"errors"
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/given"
	"fliptrue/calc/lsq"
	"fliptrue/calc/unit"
)

// Standard uncertainties of a touch, mm. Common practice, from memory.
const (
	TouchU    = 0.003
	StockHalf = 0.020 // half-width of a face that still has stock: the cutter's spring
)

// Touch is one touch of a face that was cut before the part moved, both in the old offset.
type Touch struct {
	Face  fit.Direction // the way the face looks
	At    float64       // programmed coordinate of the face, finishing stock not counted
	Along float64       // along the face: Y on X faces, X on Y faces
	Found float64       // coordinate of the face as touched, ball radius taken off
	Stock float64       // left on the face by the program; 0: finished
	U     float64       // standard uncertainty; 0 takes TouchU, with StockHalf where there is stock
}

// off is how far the face was found from its program, along + of its axis.
func (t Touch) off() float64 { return t.Found - t.At - t.Face.Sign()*t.Stock }

func (t Touch) u() float64 {
	u := t.U
	if u == 0 {
		u = TouchU
	}
	if t.Stock != 0 {
		u = math.Hypot(u, StockHalf/math.Sqrt(3))
	}
	return u
}

// Moved is how a part lies now against how it lay when those faces were cut.
type Moved struct {
	Motion frame.Motion  // program to where it lies; shift that of the program zero
	Cov    [3][3]float64 // of shift X, Y (mm²) and turn
	Dof    float64       // +Inf while the scatter is that of the instrument
	Sized  bool          // Size was told from the readings
	Size   float64       // faces stand further out than programmed by this: the cutter
	Left   []float64     // residuals, mm
	S      float64       // their scatter with the readings to spare, mm; 0 without
	Odd    []int         // touches that do not belong beyond chance: a face cut when the part had already moved
	OddBy  []float64     // what they differ by from what the others say, mm
}

// Find solves by least squares, weights 1/u²:
//
//	X face at y: d = tx - w y + s·sign      Y face at x: d = ty + w x + s·sign
//
// sign is that of the way the face looks. size false leaves s out: only where faces were
// touched in opposite pairs does it then not enter. Where the touches cannot tell s, it is left out
// and Sized is false. At least two faces of one axis and one of the other, else an error. The
// scatter is that stated; where what is left over is larger beyond chance (χ² at 1 %)
// covariance and Dof are those of the readings. The turn is taken as small.
func Find(ts []Touch, size bool) (Moved, error) {
	rows, d, u := make([][]float64, len(ts)), make([]float64, len(ts)), make([]float64, len(ts))
	for i, t := range ts {
		if err := given.Finite("programmed face", t.At, "place along it", t.Along, "touch", t.Found, "stock", t.Stock); err != nil {
			return Moved{}, fmt.Errorf("touch %d: %w", i+1, err)
		}
		switch t.Face {
		case fit.XPlus, fit.XMinus:
			rows[i] = []float64{1, 0, -t.Along, t.Face.Sign()}
		case fit.YPlus, fit.YMinus:
			rows[i] = []float64{0, 1, t.Along, t.Face.Sign()}
		default:
			return Moved{}, fmt.Errorf("touch %d is on a face that looks along X or Y, not %d; choose the face", i+1, t.Face)
		}
		d[i], u[i] = t.off(), t.u()
	}
	if len(ts) < 3 {
		return Moved{}, fmt.Errorf("%d touches do not give place and turn; touch two faces of one axis far apart and one of the other", len(ts))
	}
	if size {
		s, err := lsq.Solve(rows, d, u)
		if err == nil {
			m := moved(s)
			m.Sized, m.Size = true, s.X[3]
			return m, nil
		}
		var un *lsq.UndeterminedError
		if !errors.As(err, &un) {
			return Moved{}, err
		}
	}
	for i := range rows {
		rows[i] = rows[i][:3]
	}
	s, err := lsq.Solve(rows, d, u)
	if err != nil {
		return Moved{}, fmt.Errorf("place and turn of the part: %w", err)
	}
	return moved(s), nil
}

func moved(s lsq.Solution) Moved {
	m := Moved{Motion: frame.Motion{Turn: unit.Angle(s.X[2]), Shift: frame.Vec{X: s.X[0], Y: s.X[1]}}, Dof: math.Inf(1), Left: s.Residuals}
	scale := 1.0
	if n := float64(s.Dof); n > 0 {
		sum := 0.0
		for _, e := range s.Residuals {
			sum += e * e
		}
		m.S = math.Sqrt(sum / n)
		if s.Chi2 > budget.Chi2Quantile(0.99, n) {
			scale, m.Dof = s.S(), n
		}
	}
	for i := range 3 {
		for k := range 3 {
			m.Cov[i][k] = s.Cofactor[i][k] * scale * scale
		}
	}
	for _, at := range s.Odd() {
		if s.Dof < 2 || math.Abs(s.Standard[at]) <= budget.CriticalT(0.05, len(s.Standard), math.Inf(1)) {
			break // with one to spare all are equally odd
		}
		m.Odd, m.OddBy = append(m.Odd, at), append(m.OddBy, s.Off(at))
	}
	return m
}

// Foresee is how well a part could be found by touching those faces, before any is touched:
// Find's covariance; Found is not looked at.
func Foresee(ts []Touch, size bool) (Moved, error) {
	as := make([]Touch, len(ts))
	for i, t := range ts {
		t.Found = t.At + t.Face.Sign()*t.Stock
		as[i] = t
	}
	return Find(as, size)
}

// At is how far a place has moved, and its standard uncertainties.
func (m Moved) At(p frame.Vec) (d, u frame.Vec) {
	return m.Motion.Move(p), m.Motion.CovAt(p, m.Cov).U()
}

// Guard is the one-sided 95 % guard for a standard uncertainty u of this motion.
func (m Moved) Guard(u float64) float64 { return budget.TQuantile(0.95, m.Dof) * u }

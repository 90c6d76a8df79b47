package inspect

import (
	"errors"
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"fliptrue/calc/lsq"
	"fliptrue/calc/register"
	"fliptrue/calc/unit"
)

// Told says how far the readings tell turn and squareness apart.
type Told int

const (
	Apart    Told = iota // both are known
	Together             // one number stands for turn and squareness; given as the turn
	NotAsked             // no reading away from the middles: the turn is taken as none
)

// Mismatch is where side 2 lies against side 1, about the part's middle.
type Mismatch struct {
	DX, DY float64    // side 2 displaced
	Turn   unit.Angle // counter-clockwise
	Size   float64    // each outer face of side 2 stands further out by this: the cutter's entered radius
	Square unit.Slope // X error per Y of side 2 against side 1: twice that of the machine, which the flip doubles
	Told   Told
	Sized  bool          // Size is known; from holes alone it is not
	Cov    [5][5]float64 // of DX, DY, Turn, Size, Square; 0 where not known
	Dof    float64       // +Inf while the scatter is that of the instruments
	Scale  float64       // the scatter the readings show over that stated, where it is larger beyond chance; else 1
	Left   []float64     // residuals, steps first
	// Odd are the readings that do not belong beyond chance (two-sided 5 % over all of them), and by how
	// much; several where they cannot be told apart: of eight steps the two at one end of opposite sides.
	Odd   []int
	OddBy []float64
}

// ToMismatch solves by least squares, weights 1/u².
//
// Five unknowns where the readings tell them apart: two places on all four sides. A turn
// seen on the X faces but not on the Y faces is the machine's squareness, not the fixture.
// With two places on one pair of sides only, the sum is given as the turn (Together). With one
// place on each side only place and size are (NotAsked), and each must be within MiddleWithin
// of its face's middle. Less is an error that says what to read. Derived.
//
// The scatter is that stated; where what is left over is larger beyond chance (χ² at 1 %) all
// covariances are taken up by it and Dof is that of the readings to spare.
func ToMismatch(steps []Step, holes []Hole) (Mismatch, error) {
	var rows [][]float64
	var y, u []float64
	add := func(row []float64, err error, value, std float64) error {
		rows, y, u = append(rows, row), append(y, value), append(u, std)
		return err
	}
	for i, s := range steps {
		row, err := s.row()
		if err = add(row, err, s.Height, orElse(s.U, StepU)); err != nil {
			return Mismatch{}, fmt.Errorf("step %d: %w", i+1, err)
		}
	}
	for i, h := range holes {
		row, err := h.row()
		if err = add(row, err, h.Off, orElse(h.U, HoleU)); err != nil {
			return Mismatch{}, fmt.Errorf("hole %d: %w", i+1, err)
		}
	}
	if len(rows) == 0 {
		return Mismatch{}, fmt.Errorf("no steps and no holes were measured; take one step on each of the four sides")
	}
	place := []int{colX, colY, colTurn, colSquare}
	if len(steps) > 0 {
		place = []int{colX, colY, colTurn, colSize, colSquare}
	}
	for told := Apart; told <= NotAsked; told++ {
		cols := without(place, told)
		if told == NotAsked {
			for i, r := range rows {
				if off(r) > MiddleWithin {
					return Mismatch{}, fmt.Errorf("reading %d lies %.1f from the middle and no turn can be told; take two places a side",
						i+1, off(r))
				}
			}
		}
		s, err := lsq.Solve(pick(rows, cols), y, u)
		var un *lsq.UndeterminedError
		if errors.As(err, &un) {
			continue
		}
		if err != nil {
			return Mismatch{}, err
		}
		return spread(s, cols, told), nil
	}
	return Mismatch{}, fmt.Errorf("%d readings do not give place and size; take one step on each of the four sides", len(rows))
}

// without is the list of unknowns at a stage.
func without(cols []int, told Told) []int {
	var out []int
	for _, c := range cols {
		if c == colSquare && told >= Together || c == colTurn && told >= NotAsked {
			continue
		}
		out = append(out, c)
	}
	return out
}

func pick(rows [][]float64, cols []int) [][]float64 {
	out := make([][]float64, len(rows))
	for i, r := range rows {
		for _, c := range cols {
			out[i] = append(out[i], r[c])
		}
	}
	return out
}

// spread puts a solution of some columns into a Mismatch.
func spread(s lsq.Solution, cols []int, told Told) Mismatch {
	m := Mismatch{Told: told, Dof: math.Inf(1), Scale: 1, Left: s.Residuals}
	if d := float64(s.Dof); d > 0 && s.Chi2 > budget.Chi2Quantile(0.99, d) {
		m.Scale, m.Dof = s.S(), d
	}
	for _, at := range s.Odd() {
		if s.Dof < 2 || math.Abs(s.Standard[at]) <= budget.CriticalT(0.05, len(s.Standard), math.Inf(1)) {
			break // with one to spare all are equally odd
		}
		m.Odd, m.OddBy = append(m.Odd, at), append(m.OddBy, s.Off(at))
	}
	var all [5]float64
	for i, c := range cols {
		all[c] = s.X[i]
		m.Sized = m.Sized || c == colSize
		for k, d := range cols {
			m.Cov[c][d] = s.Cofactor[i][k] * m.Scale * m.Scale
		}
	}
	m.DX, m.DY, m.Turn, m.Size, m.Square = all[0], all[1], unit.Angle(all[2]), all[3], unit.Slope(all[4])
	return m
}

// Levered adds the doubt of the dial's scale, a share u of all that it showed: what is common to all steps moves all of a mismatch in
// one ratio, and no number of steps takes it out.
//
//	cov += x xᵀ u²
func (m Mismatch) Levered(u float64) Mismatch {
	x := [5]float64{m.DX, m.DY, float64(m.Turn), m.Size, float64(m.Square)}
	for i := range x {
		for k := range x {
			m.Cov[i][k] += x[i] * x[k] * u * u
		}
	}
	return m
}

// U is the standard uncertainty of each component, in the order DX, DY, Turn, Size, Square.
func (m Mismatch) U() (u [5]float64) {
	for i := range u {
		u[i] = math.Sqrt(m.Cov[i][i])
	}
	return u
}

// Real says of each component whether it differs from none: |value| above its guard.
func (m Mismatch) Real() (real [5]bool) {
	u := m.U()
	for i, v := range [5]float64{m.DX, m.DY, float64(m.Turn), m.Size, float64(m.Square)} {
		real[i] = math.Abs(v) > m.factor()*u[i] && u[i] > 0
	}
	return real
}

// factor is the one-sided 95 % factor.
func (m Mismatch) factor() float64 { return budget.TQuantile(0.95, m.Dof) }

// At is how far side 2 is out at a place, from the part's middle: all that is known, the
// machine's squareness with it. u is per axis.
func (m Mismatch) At(p frame.Vec) (d, u frame.Vec) {
	rows := [2][5]float64{{1, 0, -p.Y, 0, p.Y}, {0, 1, p.X, 0, 0}}
	x := [5]float64{m.DX, m.DY, float64(m.Turn), 0, float64(m.Square)}
	var v, std [2]float64
	for a, r := range rows {
		var q float64
		for i := range r {
			v[a] += r[i] * x[i]
			for k := range r {
				q += r[i] * r[k] * m.Cov[i][k]
			}
		}
		std[a] = math.Sqrt(q)
	}
	return frame.Vec{X: v[0], Y: v[1]}, frame.Vec{X: std[0], Y: std[1]}
}

// MachineSquare is the squareness of the machine itself, X error per Y: half of what side 2 shows against
// side 1, for the flip about either axis doubles it. It goes to the machine's card, not to the fixture.
func (m Mismatch) MachineSquare() (eps unit.Slope, u float64) {
	return m.Square / 2, math.Sqrt(m.Cov[colSquare][colSquare]) / 2
}

// Move is the part of At that a fixture can be corrected for: place and turn alone.
//
//	(dx - w y, dy + w x)
func (m Mismatch) Move(p frame.Vec) frame.Vec {
	w := float64(m.Turn)
	return frame.Vec{X: m.DX - w*p.Y, Y: m.DY + w*p.X}
}

// Judge judges the mismatch at features, from the part's middle, against an allowance: see register.Judge.
func (m Mismatch) Judge(features []frame.Vec, allowance float64) (register.Judged, error) {
	return register.Judge(features, allowance, func(p frame.Vec) (d, guard frame.Vec) {
		d, u := m.At(p)
		return d, u.Times(m.factor())
	})
}

package frame

import (
	"errors"
	"math"

	"fliptrue/calc/unit"
)

// AsMade is what probing the bore gave while the fixture still stood in the setup it was made in.
type AsMade struct {
	Bias         Vec // probed centre minus programmed centre, mm: probe and machine together
	Eccentricity Vec // of the probe on that day, mm
}

// Correction names the one correction a probed centre took.
type Correction int

const (
	LessBias         Correction = iota // the as-made bias, which holds the probe's eccentricity
	LessEccentricity                   // today's eccentricity and the machine's part of the as-made bias
)

// Centre corrects a raw probed centre exactly once. same says that the stylus mounting and the spindle
// mark are those of the as-made day: the bias then cancels the probe as a whole and today's eccentricity is not
// used. Otherwise the probe is taken out by today's eccentricity, and of the bias only the machine's part,
// bias minus the eccentricity of that day, is taken out. Calibrating, changing or refitting the probe ends same.
func (m AsMade) Centre(raw Vec, same bool, today Vec) (Vec, Correction) {
	if same {
		return raw.Sub(m.Bias), LessBias
	}
	return raw.Sub(today).Sub(m.Bias.Sub(m.Eccentricity)), LessEccentricity
}

// TwoBores finds skew and scale from two bores now against the vector between them as made, which need not
// lie along X, and the covariance of (first bore, skew, scale). c1 and c2 are those of the two bores now. They are taken as
// independent of each other; a bias common to both drops out of the vector and belongs in a budget line of the first bore.
//
// Two bores in one place, now or as made, are refused.
func TwoBores(b1, b2, made Vec, c1, c2 Cov2) (skew unit.Angle, q float64, cov Cov4, err error) {
	d := b2.Sub(b1)
	l, l0 := d.Len(), made.Len()
	if !(l > 0) || !(l0 > 0) || math.IsInf(l, 1) || math.IsInf(l0, 1) {
		return 0, 0, Cov4{}, errors.New("two bores have no direction: their centres coincide or are not finite: check which bore each reading " +
			"belongs to")
	}
	skew = unit.Angle(math.Atan2(made.Cross(d), made.Dot(d)))
	q = l / l0
	// (b1, skew, q) by b1 is [I; -g], by b2 is [0; g]
	g := [2]Vec{d.Left().Times(1 / (l * l)), d.Times(1 / (l * l0))}
	var j1, j2 [4][2]float64
	j1[0][0], j1[1][1] = 1, 1
	for i, v := range g {
		j1[2+i] = [2]float64{-v.X, -v.Y}
		j2[2+i] = [2]float64{v.X, v.Y}
	}
	for r := range cov {
		for s := range cov {
			for i := range 2 {
				for k := range 2 {
					cov[r][s] += float64(float64(j1[r][i]*c1[i][k])*j1[s][k]) + float64(float64(j2[r][i]*c2[i][k])*j2[s][k])
				}
			}
		}
	}
	return skew, q, cov, nil
}

package fold

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
)

// A card that holds a fact is read by its type. Two forms are read: the vector of records of any
// age, {"value":[...],"cov":[[...]],"dof":4}, and the one by names, {"fact":{"x":...},"cov":{"x x":...}}.
// What does not fit the type is refused with words: it may come from a hand or from another version.

// AnyFact is a typed fact of any type.
type AnyFact interface {
	Name() FactID
	fromCard(text string) (Known, error)
}

// Name is the fact's id.
func (f Fact[T]) Name() FactID { return f.ID }

// factCard is how such a card is written.
type factCard struct {
	Value []float64          `json:"value,omitempty"`
	Fact  map[string]float64 `json:"fact,omitempty"`
	Cov   json.RawMessage    `json:"cov,omitempty"`
	Dof   float64            `json:"dof,omitempty"`
}

// beyond is no length, angle, count, temperature or variance of a setup any more, mm, rad, °C.
const beyond = 1e6

func (f Fact[T]) fromCard(text string) (Known, error) {
	k, err := f.layout.fromCard(text)
	k.ID = f.ID
	return k, err
}

func (l *layout) fromCard(text string) (k Known, err error) {
	if !strings.HasPrefix(strings.TrimSpace(text), "{") {
		return k, errors.New("it is no {...}")
	}
	var t factCard
	d := json.NewDecoder(strings.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&t); err != nil {
		return k, err
	}
	if _, err := d.Token(); err != io.EOF {
		return k, errors.New("something stands behind its end")
	}
	k.Dof, k.Value = t.Dof, t.Value
	switch {
	case t.Fact != nil && t.Value != nil:
		return k, errors.New("it has both value and fact; one of them")
	case t.Fact != nil:
		if k.Value, err = l.byName(t.Fact); err != nil {
			return k, err
		}
	}
	if k.Cov, err = l.covOf(t.Cov); err != nil {
		return k, err
	}
	return k, l.sound(k)
}

// byName puts named numbers in their order.
func (l *layout) byName(named map[string]float64) ([]float64, error) {
	out, n := make([]float64, len(l.names)), l.least
	for i, name := range l.names {
		x, ok := named[name]
		if !ok && i < l.least {
			return nil, fmt.Errorf("it has no %s; it wants %s", name, strings.Join(l.names[:l.least], ", "))
		}
		if ok {
			out[i], n = x, max(n, i+1)
		}
	}
	for name := range named {
		if !slices.Contains(l.names, name) {
			return nil, fmt.Errorf("%s is none of its numbers; they are: %s", name, strings.Join(l.names, ", "))
		}
	}
	return out[:n], nil
}

// covOf reads a covariance, rows or pairs of names; nil where none is there.
func (l *layout) covOf(text json.RawMessage) (rows [][]float64, err error) {
	text = bytes.TrimSpace(text)
	if len(text) == 0 {
		return nil, nil
	}
	if text[0] != '{' {
		return rows, json.Unmarshal(text, &rows)
	}
	var pairs map[string]float64
	if err := json.Unmarshal(text, &pairs); err != nil {
		return nil, err
	}
	for _, labels := range l.covs {
		if len(pairs) == len(labels)*(len(labels)+1)/2 {
			return square(labels, pairs)
		}
	}
	return nil, fmt.Errorf("its covariance has %d pairs, which no version wrote", len(pairs))
}

// square is the matrix of pairs "x y", each given once, in either order.
func square(labels []string, pairs map[string]float64) ([][]float64, error) {
	rows := make([][]float64, len(labels))
	for i, a := range labels {
		rows[i] = make([]float64, len(labels))
		for k, b := range labels[:i+1] {
			c, ok := pairs[a+" "+b]
			if !ok {
				c, ok = pairs[b+" "+a]
			}
			if !ok {
				return nil, fmt.Errorf("its covariance lacks %q", b+" "+a)
			}
			rows[i][k], rows[k][i] = c, c
		}
	}
	return rows, nil
}

// sound says what of a fact can't be.
func (l *layout) sound(k Known) error {
	if n := len(k.Value); n < l.least || n > len(l.names) && l.rest < 0 {
		return fmt.Errorf("it has %d numbers, %d to %d were ever written", n, l.least, len(l.names))
	}
	for i, x := range k.Value {
		if !(math.Abs(x) <= beyond) {
			return fmt.Errorf("number %d is %g, which nothing of a setup is", i+1, x)
		}
	}
	if !(k.Dof >= 0 && k.Dof <= beyond) {
		return fmt.Errorf("it has %g degrees of freedom", k.Dof)
	}
	if len(k.Cov) == 0 {
		if len(l.covs) > 0 && k.Cov == nil {
			return errors.New("it has no covariance; an unknown uncertainty is not none")
		}
		if k.Cov != nil {
			return errors.New("its covariance is empty")
		}
		return nil
	}
	if !slices.ContainsFunc(l.covs, func(labels []string) bool { return len(labels) == len(k.Cov) }) {
		return fmt.Errorf("it has a covariance of %d, which no version wrote", len(k.Cov))
	}
	return possible(k.Cov)
}

// possible says why a matrix is no covariance: ragged, not symmetric, or a combination of its
// components would have a variance below 0 (Cholesky's elimination, to the digits of a card).
func possible(cov [][]float64) error {
	n := len(cov)
	m := make([][]float64, n)
	for i, row := range cov {
		if len(row) != n {
			return fmt.Errorf("row %d of its covariance has %d numbers, not %d", i+1, len(row), n)
		}
		if !(row[i] >= 0 && row[i] <= beyond) {
			return fmt.Errorf("variance %d is %g", i+1, row[i])
		}
		m[i] = slices.Clone(row)
	}
	const digits = 1e-9
	for i := range n {
		for k := range i {
			c := math.Sqrt(cov[i][i] * cov[k][k])
			if !(math.Abs(cov[i][k]-cov[k][i]) <= digits*c) || math.Abs(cov[i][k]) > c*(1+digits) {
				return fmt.Errorf("covariances %g and %g can't be beside variances %g and %g", cov[i][k], cov[k][i], cov[i][i], cov[k][k])
			}
		}
	}
	for p := range n {
		for i := p + 1; i < n && m[p][p] > digits*cov[p][p]; i++ {
			for k := p + 1; k < n; k++ {
				m[i][k] -= m[i][p] * m[p][k] / m[p][p]
			}
			if m[i][i] < -digits*cov[i][i] {
				return errors.New("its covariance is impossible: a variance below 0")
			}
		}
	}
	return nil
}

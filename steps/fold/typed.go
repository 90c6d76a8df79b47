package fold

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// Fact is a fact with a Go type: a struct whose fields are named, unit-typed numbers. It is kept
// as a vector, in the order of the fields, so that records of any age read.
//
// A field is tagged `fact:"name"`; with ",opt" it may be missing behind the others, with ",bare" it
// is also left out when it and all behind it are 0, and ",rest" is a slice that takes what is left. A struct may have a field Cov
// of type Cov and a field Dof of
// type float64.
type Fact[T any] struct {
	ID     FactID
	layout *layout
}

// NewFact is a typed fact. covs name the leading components that a covariance is of, one text
// a version of this program: "x,y", "x,y,theta,scale". It panics on a struct without a layout:
// that is a mistake of the program.
func NewFact[T any](id FactID, covs ...string) Fact[T] {
	return Fact[T]{id, layoutOf(id, reflect.TypeFor[T](), covs)}
}

// Of is the fact of one thing of several: Length.Of("3") is length/3.
func (f Fact[T]) Of(thing string) Fact[T] { return Fact[T]{f.ID + "/" + FactID(thing), f.layout} }

// In is the fact as the step may use it; a void one is absent, and one that the step did not
// declare is a mistake of the program.
func (f Fact[T]) In(v View) (T, bool) { return f.from(v.Fact(f.ID)) }

// Was is the fact as it was before what a recheck is to lift.
func (f Fact[T]) Was(v View) (T, bool) { return f.from(v.Was(f.ID)) }

// Perhaps is the fact for what several steps share: see View.Perhaps.
func (f Fact[T]) Perhaps(v View) (T, bool) { return f.from(v.Perhaps(f.ID)) }

// By is the fact as a function gives facts.
func (f Fact[T]) By(get func(FactID) (Known, bool)) (T, bool) { return f.from(get(f.ID)) }

func (f Fact[T]) from(k Known, ok bool) (t T, is bool) {
	if !ok {
		return t, false
	}
	return f.Read(k)
}

// Read is a known fact with its type; ok is false where it has not enough numbers.
func (f Fact[T]) Read(k Known) (t T, ok bool) {
	return t, f.layout.read(k, reflect.ValueOf(&t).Elem()) == nil
}

// Is is the fact with its value, for an Outcome.
func (f Fact[T]) Is(t T) Known { return f.layout.write(f.ID, reflect.ValueOf(t)) }

// layout is how a struct is kept.
type layout struct {
	id       FactID
	names    []string
	fields   []int // of the struct, one a name
	least    int   // names that must be there
	full     int   // names that are always written
	rest     int   // field that takes what is left, -1 for none
	cov, dof int   // fields, -1 for none
	covs     [][]string
}

func layoutOf(id FactID, t reflect.Type, covs []string) *layout {
	l := &layout{id: id, rest: -1, cov: -1, dof: -1}
	for i := range t.NumField() {
		f := t.Field(i)
		tag, tagged := f.Tag.Lookup("fact")
		switch {
		case f.Type == reflect.TypeFor[Cov]():
			l.cov = i
		case f.Name == "Dof":
			l.dof = i
		case !tagged:
			panic(fmt.Sprintf("fold: %s.%s has no fact tag", t, f.Name))
		case strings.HasSuffix(tag, ",rest"):
			l.rest = i
		case f.Type.Kind() != reflect.Float64:
			panic(fmt.Sprintf("fold: %s.%s is no number", t, f.Name))
		default:
			name, how, _ := strings.Cut(tag, ",")
			l.names, l.fields = append(l.names, name), append(l.fields, i)
			if how == "" {
				l.least = len(l.names)
			}
			if how != "bare" {
				l.full = len(l.names)
			}
		}
	}
	for _, c := range covs {
		labels := strings.Split(c, ",")
		for _, n := range labels {
			if !slices.Contains(l.names, n) {
				panic(fmt.Sprintf("fold: %s has no component %s for its covariance", t, n))
			}
		}
		l.covs = append(l.covs, labels)
	}
	return l
}

// read fills a struct; an error says what of the vector does not fit.
func (l *layout) read(k Known, to reflect.Value) error {
	if len(k.Value) < l.least || len(k.Value) > len(l.names) && l.rest < 0 {
		return fmt.Errorf("%s has %d numbers; %d to %d were ever written", l.id, len(k.Value), l.least, len(l.names))
	}
	for i, x := range k.Value[:min(len(k.Value), len(l.names))] {
		to.Field(l.fields[i]).SetFloat(x)
	}
	if l.rest >= 0 && len(k.Value) > len(l.names) {
		to.Field(l.rest).Set(reflect.ValueOf(slices.Clone(k.Value[len(l.names):])))
	}
	if l.dof >= 0 {
		to.Field(l.dof).SetFloat(k.Dof)
	}
	if len(k.Cov) == 0 || l.cov < 0 {
		return nil
	}
	for _, labels := range l.covs {
		if len(labels) == len(k.Cov) {
			to.Field(l.cov).Set(reflect.ValueOf(Cov{labels, k.Cov}))
			return nil
		}
	}
	return fmt.Errorf("%s has a covariance of %d, which no version wrote", l.id, len(k.Cov))
}

// write gives the vector.
func (l *layout) write(id FactID, from reflect.Value) Known {
	k := Known{ID: id}
	n := len(l.names)
	for n > l.full && from.Field(l.fields[n-1]).Float() == 0 {
		n--
	}
	if l.cov >= 0 {
		c := from.Field(l.cov).Interface().(Cov)
		k.Cov = c.m
		for _, name := range c.labels {
			n = max(n, slices.Index(l.names, name)+1)
		}
	}
	if l.rest >= 0 && from.Field(l.rest).Len() > 0 {
		n = len(l.names)
	}
	for i := range n {
		k.Value = append(k.Value, from.Field(l.fields[i]).Float())
	}
	if l.rest >= 0 {
		k.Value = append(k.Value, from.Field(l.rest).Interface().([]float64)...)
	}
	if l.dof >= 0 {
		k.Dof = from.Field(l.dof).Float()
	}
	return k
}

// Cov is a covariance whose rows and columns have names. The zero Cov is that of exact numbers.
type Cov struct {
	labels []string
	m      [][]float64
}

// NewCov is a covariance of named components: "x,y,theta,scale". It panics where the matrix is
// not of that size.
func NewCov(labels string, m [][]float64) Cov {
	c := Cov{strings.Split(labels, ","), m}
	if len(c.labels) != len(m) {
		panic(fmt.Sprintf("fold: a covariance of %d for %q", len(m), labels))
	}
	return c
}

// Exact says that no covariance is known.
func (c Cov) Exact() bool { return len(c.m) == 0 }

// Var is a component's variance. It panics on a component that the covariance does not name: an
// absent variance is not an exact value. Of an exact fact it is 0.
func (c Cov) Var(label string) float64 { return c.Between(label, label) }

// Between is the covariance of two components.
func (c Cov) Between(a, b string) float64 {
	if c.Exact() {
		return 0
	}
	i, k := slices.Index(c.labels, a), slices.Index(c.labels, b)
	if i < 0 || k < 0 {
		panic(fmt.Sprintf("fold: a covariance of %v is asked for %s and %s", c.labels, a, b))
	}
	return c.m[i][k]
}

// Has says that the covariance speaks of a component.
func (c Cov) Has(label string) bool { return slices.Contains(c.labels, label) }

// Matrix is the covariance of the named components, in their order; nil when exact.
func (c Cov) Matrix(labels ...string) [][]float64 {
	if c.Exact() {
		return nil
	}
	out := make([][]float64, len(labels))
	for i, a := range labels {
		for _, b := range labels {
			out[i] = append(out[i], c.Between(a, b))
		}
	}
	return out
}

// Live is needed at once and always: what is made falls with it.
func (f Fact[T]) Live() []Need { return Live(f.ID) }

// AsRead must stand when the first reading is taken.
func (f Fact[T]) AsRead() []Need { return AsRead(f.ID) }

// IfThere is as read when there, never waited for.
func (f Fact[T]) IfThere() []Need { return IfThere(f.ID) }

// LiveIfThere is never waited for; what is made falls when it is lost, or made after it.
func (f Fact[T]) LiveIfThere() []Need { return LiveIfThere(f.ID) }

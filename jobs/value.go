package jobs

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"fliptrue/calc/unit"
)

var (
	systemType  = reflect.TypeFor[unit.System]()
	pointType   = reflect.TypeFor[Point]()
	outlineType = reflect.TypeFor[Outline]()
)

// value fills v from a node, whatever v is.
func (r *reader) value(n *yamlNode, v reflect.Value, f rules, path, name string) {
	if n.Kind == aliasNode {
		return // already a fault
	}
	r.places[path] = [2]int{n.Line, n.Column}
	switch t := v.Type(); {
	case t == systemType:
		if text, ok := r.word(n, f, path); ok && text == "in" {
			v.SetInt(int64(unit.Imperial))
		}
	case t == pointType:
		r.numbers(n, v, []int{0, 1}, f, path, name)
	case t.Kind() == reflect.Array:
		if f.pair && n.Kind == scalarNode {
			r.number(n, v.Index(0), f, path, name)
			v.Index(1).Set(v.Index(0))
			return
		}
		all := make([]int, v.Len())
		for i := range all {
			all[i] = i
		}
		r.numbers(n, v, all, f, path, name)
		lo, hi := v.Index(0).Float(), v.Index(v.Len()-1).Float()
		if f.ascending && lo >= hi || f.pair && lo > hi {
			r.fault(path, "the first number is not below the second", "write [lowest, highest]")
		}
	case t.Kind() == reflect.Pointer:
		p := reflect.New(t.Elem())
		r.value(n, p.Elem(), f, path, name)
		v.Set(p)
	case t.Kind() == reflect.Struct:
		r.object(n, v, path, name)
	case t.Kind() == reflect.Slice:
		r.slice(n, v, f, path, name)
	case t.Kind() == reflect.Map:
		r.mapping(n, v, f, path)
	case t.Kind() == reflect.String:
		if text, ok := r.word(n, f, path); ok {
			v.SetString(text)
		}
	case t.Kind() == reflect.Bool:
		text, ok := r.word(n, rules{words: []string{"true", "false"}}, path)
		v.SetBool(ok && text == "true")
	default:
		r.number(n, v, f, path, name)
	}
}

// scalar is the text of a single value.
func (r *reader) scalar(n *yamlNode, path string) (string, bool) {
	switch {
	case n.Kind != scalarNode:
		r.at(n, label(path)+"one value is expected here, not "+kindWord(n), "write one value without brackets")
		return "", false
	case n.ShortTag() == "!!null" && n.Style == 0 || strings.TrimSpace(n.Value) == "":
		r.at(n, label(path)+"nothing is given", "give a value, or take the key out")
		return "", false
	case len(n.Value) > maxText:
		r.at(n, label(path)+fmt.Sprintf("a text of %d bytes, %s", len(n.Value), quote(n.Value)), fmt.Sprintf("keep it under %d", maxText))
		return "", false
	}
	r.leaf(path, n)
	return n.Value, true
}

// word reads a text and checks the words and file names that may stand there.
func (r *reader) word(n *yamlNode, f rules, path string) (string, bool) {
	text, ok := r.scalar(n, path)
	if !ok {
		return "", false
	}
	if f.words != nil && !slices.Contains(f.words, text) {
		hint := "one of: " + strings.Join(f.words, ", ")
		if k := nearest(text, f.words); k != "" {
			hint = "did you mean " + quote(k) + "? " + hint
		}
		r.fault(path, quote(text)+" is not one of the words", hint)
		return "", false
	}
	if f.file && (!filepath.IsLocal(text) || strings.ContainsAny(text, `\:`) || filepath.Clean(text) != filepath.FromSlash(text)) {
		r.fault(path, "file "+quote(text)+" is not a plain name inside the job's folder",
			"put the file beside the job and write its name, parts joined with /")
		return "", false
	}
	return text, true
}

// kindOf says which quantity a number is: by its Go type, else by its rule, else a length.
func kindOf(t reflect.Type, f rules, name string) unit.Kind {
	switch t {
	case reflect.TypeFor[unit.Length]():
		return unit.KLength
	case reflect.TypeFor[unit.Slope]():
		return unit.KSlope
	case reflect.TypeFor[unit.Force]():
		return unit.KForce
	case reflect.TypeFor[unit.Torque]():
		return unit.KTorque
	case reflect.TypeFor[unit.Temperature]():
		return unit.KTemperature
	case reflect.TypeFor[unit.Duration]():
		return unit.KDuration
	}
	kind := f.kind
	if k, ok := f.perName[name]; ok {
		kind = k
	}
	switch {
	case t.Kind() == reflect.Int:
		return unit.Count
	case kind == "":
		return unit.KLength
	case kind == "scalar":
		return unit.Scalar
	case kind == "stress":
		return unit.KStress
	case kind == "degrees":
		return unit.KAngle
	case kind == "temperature":
		return unit.KTemperature
	}
	panic("jobs: unknown kind " + kind)
}

// number reads one number into a float or an int, and checks its bounds.
func (r *reader) number(n *yamlNode, v reflect.Value, f rules, path, name string) {
	text, ok := r.scalar(n, path)
	if !ok {
		return
	}
	num, err := unit.Parse(text, kindOf(v.Type(), f, name), r.sys)
	if err != nil {
		what, hint := err.Error(), ""
		var e *unit.EntryError
		if errors.As(err, &e) {
			what, hint = e.What, e.Hint
		}
		r.fault(path, quote(text)+": "+what, hint)
		return
	}
	x := num.Value
	if f.kind == "degrees" {
		x = math.Round(x*180/math.Pi*1e9) / 1e9
	}
	bound := func(word string, limit float64) {
		r.fault(path, fmt.Sprintf("%s must be %s %s", quote(text), word, boundText(limit, kindOf(v.Type(), f, name), r.sys)), "correct the value")
	}
	switch {
	case f.above != nil && x <= *f.above:
		bound("above", *f.above)
	case f.min != nil && x < *f.min:
		bound("at least", *f.min)
	case f.max != nil && x > *f.max:
		bound("at most", *f.max)
	}
	if v.Kind() == reflect.Int {
		v.SetInt(int64(x))
	} else {
		v.SetFloat(x)
	}
}

// boundText is a bound as printed: bounds are in internal units.
func boundText(x float64, k unit.Kind, sys unit.System) string {
	name := ""
	switch k {
	case unit.KLength:
		name = " mm"
	case unit.KAngle:
		name = " degrees"
	case unit.KForce:
		name = " N"
	case unit.KTorque:
		name = " N·mm"
	case unit.KStress:
		name = " MPa"
	}
	switch {
	case x == 0:
		return "0"
	case sys == unit.Metric || k == unit.KAngle || name == "":
		return strconv.FormatFloat(x, 'g', -1, 64) + name
	}
	return unit.Show(x, k, sys, 0)
}

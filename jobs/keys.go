package jobs

import (
	"reflect"
	"slices"
	"strconv"
	"strings"

	"fliptrue/calc/unit"
)

// Files are the four kinds of file, in the order in which they are explained.
var Files = []string{"job", "machine", "fixture", "record"}

// SetupKinds are the kinds of setup that a job may name.
func SetupKinds() []string {
	f, _ := own(planOf(reflect.TypeFor[Setup]()), func(r rules) bool { return slices.Contains(r.words, "second-side") })
	return slices.Clone(f.rules.words)
}

// Key is one key of a file as its reader knows it: made from the declared table, for a
// person and for editors.
type Key struct {
	File    string    // one of Files
	Path    string    // keys joined by dots; NAME stands for a name and N for a number of the person's own
	Means   string    // one sentence
	Sign    string    // what plus and minus mean; "" where there is none
	Takes   string    // what may stand there: "a length", "one of: T, M, S"
	Unit    [2]string // of a bare number in a file in mm, in inches; "" for none
	Bounds  string
	Default [2]string // what it is when left out, in a file in mm, in inches; "" for nothing
	Need    string    // "always", "with kind: second-side", ""
	Only    string    // what it goes with: "kind: second-side", ""
	Kinds   []string  // kinds of setup that may have it; nil where it is in no setup, or in all
	Words   []string  // the words that may stand there
	Example string
	Group   bool // it holds other keys

	shape *shape
}

// Keys are all keys of all files, each file in the order of its table.
func Keys() []Key {
	var out []Key
	for _, file := range Files {
		for _, s := range shapeOf(file).inside {
			out = s.keys(out, Key{File: file})
		}
	}
	return out
}

// shape is the tree of what may stand in a file, as Keys and Schema give it out.
type shape struct {
	key    string // as in the file; NAME or N for a key of the person's own
	field  field
	typ    reflect.Type
	inside []*shape // of a group
	repeat bool     // a group for each name
}

// shapeOf is the tree of a file.
func shapeOf(file string) *shape {
	root := &shape{key: file}
	format := &shape{key: "format", typ: reflect.TypeFor[int](),
		field: field{key: "format", rules: rules{need: true, words: []string{strconv.Itoa(format)}},
			says: "Format of the file; it comes first.", eg: "1"}}
	switch file {
	case "job":
		root.typ = reflect.TypeFor[Job]()
	case "machine":
		root.typ = reflect.TypeFor[Machine]()
	case "fixture":
		root.typ = reflect.TypeFor[Fixture]()
	case "record":
		root.inside = append([]*shape{format}, recordShapes()...)
		return root
	}
	root.inside = append([]*shape{format}, groupOf(root.typ)...)
	return root
}

// groupOf are the keys of a struct.
func groupOf(t reflect.Type) []*shape {
	var out []*shape
	for _, f := range planOf(t) {
		if f.key == "" {
			continue
		}
		ft := t.Field(f.index).Type
		s := &shape{key: f.key, field: f, typ: ft}
		for ft.Kind() == reflect.Pointer {
			ft = ft.Elem()
		}
		s.typ = ft
		switch elem := named(ft); {
		case elem != nil:
			s.repeat = true
			inner := &shape{key: "NAME", typ: elem, field: field{rules: f.rules}}
			if ft.Kind() == reflect.Map && ft.Key().Kind() == reflect.Int {
				inner.key = "N"
			}
			if _, inline := own(planOf(elem), func(r rules) bool { return r.inline }); !inline {
				inner.inside = groupOf(elem)
			}
			s.inside = []*shape{inner}
		case ft.Kind() == reflect.Struct && ft != pointType:
			s.inside = groupOf(ft)
		}
		out = append(out, s)
	}
	return out
}

// named is the struct that a map or a list of named entries holds, else nil.
func named(t reflect.Type) reflect.Type {
	if t.Kind() != reflect.Map && t.Kind() != reflect.Slice {
		return nil
	}
	if e := t.Elem(); e.Kind() == reflect.Struct && e != pointType {
		return e
	}
	return nil
}

// recordShapes are the keys of one event.
func recordShapes() []*shape {
	text := reflect.TypeFor[string]()
	out := []*shape{{key: "at", typ: text, field: field{key: "at", says: "When it happened, as RFC 3339 writes it; the order of the lines " +
		"counts, not the time.", eg: "2026-03-01T10:42:05+01:00", rules: rules{need: true}}}}
	for _, v := range verbs {
		out = append(out, &shape{key: v.key, typ: text, field: field{key: v.key, says: v.says, eg: v.eg}})
	}
	for _, d := range details {
		out = append(out, &shape{key: d.key, typ: text, field: field{key: d.key, says: d.says, eg: d.eg}})
	}
	return append(out,
		&shape{key: "changed", typ: reflect.TypeFor[[]string](), field: field{key: "changed", says: "With plan: the keys that changed.",
			eg: "[job.allowance]"}},
		&shape{key: "cards", typ: reflect.TypeFor[map[string]string](),
			field: field{key: "cards", says: "With begin: the values of job and cards that were used; with plan: the changed ones.",
				eg: `{machine.readout: "0.001"}`}})
}

// keys adds a key and those inside it. up is the key that holds it.
func (s *shape) keys(out []Key, up Key) []Key {
	k := Key{File: up.File, Path: s.key, Only: up.Only, Kinds: up.Kinds, shape: s}
	if up.Path != "" {
		k.Path = up.Path + "." + s.key
	}
	r := s.field.rules
	k.Means, k.Sign, k.Example, k.Words = s.field.says, s.field.sign, s.field.eg, r.words
	if k.Path == "setups.NAME" {
		k.Kinds = nil
	}
	switch {
	case r.need:
		k.Need = "always"
	case r.needIf != nil && r.def == "":
		k.Need = "with " + r.needIf.text()
	}
	if r.onlyIf != nil {
		k.Only = r.onlyIf.text()
		if r.onlyIf.key == "kind" && strings.HasPrefix(k.Path, "setups.NAME.") && strings.Count(k.Path, ".") == 2 {
			k.Kinds = r.onlyIf.words
		}
	}
	k.Group = len(s.inside) > 0
	k.Takes = s.takes()
	if !k.Group {
		k.Bounds = s.bounds()
		k.Default = s.defaults()
		k.Unit = s.units()
	}
	if s.key != "NAME" && s.key != "N" {
		out = append(out, k)
	}
	for _, in := range s.inside {
		out = in.keys(out, k)
	}
	return out
}

func (c *condition) text() string { return c.key + ": " + strings.Join(c.words, " or ") }

// number reports whether a type is read as numbers, and what one of them is.
func (s *shape) number() (reflect.Type, bool) {
	t := s.typ
	for t.Kind() == reflect.Array || t.Kind() == reflect.Slice || t.Kind() == reflect.Map {
		t = t.Elem()
	}
	if t == pointType {
		return reflect.TypeFor[float64](), true
	}
	return t, t != systemType && (t.Kind() == reflect.Float64 || t.Kind() == reflect.Int)
}

func (s *shape) units() [2]string {
	t, ok := s.number()
	if !ok || len(s.field.rules.words) > 0 {
		return [2]string{}
	}
	if s.field.rules.kind == "degrees" {
		return [2]string{"degrees", "degrees"}
	}
	k := kindOf(t, s.field.rules, "")
	return [2]string{unit.EntryUnit(k, unit.Metric), unit.EntryUnit(k, unit.Imperial)}
}

// takesOne says in words what one value is.
func (r rules) takesOne(t reflect.Type) string {
	switch {
	case len(r.words) == 1:
		return r.words[0]
	case r.words != nil:
		return "one of: " + strings.Join(r.words, ", ")
	case t == systemType:
		return "one of: mm, in"
	case r.file:
		return "a file name inside the job's folder"
	case t.Kind() == reflect.String:
		return "a text"
	case t.Kind() == reflect.Bool:
		return "true or false"
	case t.Kind() == reflect.Int:
		return "a whole number"
	case r.kind == "degrees":
		return "an angle in degrees"
	}
	switch kindOf(t, r, "") {
	case unit.KSlope:
		return "a slope, as rise/run"
	case unit.KForce:
		return "a force"
	case unit.KTorque:
		return "a torque"
	case unit.KTemperature:
		return "a temperature"
	case unit.KStress:
		return "a stress"
	case unit.Scalar:
		return "a number"
	}
	return "a length"
}

// takes says in words what may stand there.
func (s *shape) takes() string {
	r := s.field.rules
	switch t := s.typ; {
	case t == pointType:
		return "a point [x, y]"
	case t == outlineType:
		return "an outline [[x, y], [x, y], [x, y], ...]"
	case t.Kind() == reflect.Slice && t.Elem() == outlineType:
		return "a list of outlines"
	case t.Kind() == reflect.Slice && t.Elem() == pointType:
		return "a list of points"
	case s.repeat && s.inside[0].key == "N":
		return "a group of keys for each number"
	case s.repeat && s.inside[0].typ == reflect.TypeFor[Change]():
		return "values by key, for each record"
	case s.repeat && len(s.inside[0].inside) == 0:
		return inlineTakes(s.inside[0].typ) + " for each name"
	case s.repeat:
		return "a group of keys for each name"
	case len(s.inside) > 0:
		return "a group of keys"
	case t.Kind() == reflect.Array && r.pair:
		return r.takesOne(t.Elem()) + ", or two: [lowest, highest]"
	case t.Kind() == reflect.Array:
		return strings.TrimPrefix(strings.TrimPrefix(r.takesOne(t.Elem()), "a "), "an ") + "s, " + strconv.Itoa(t.Len()) + " in brackets"
	case t.Kind() == reflect.Slice:
		return "a list; each " + r.takesOne(t.Elem())
	case t.Kind() == reflect.Map && t.Elem().Kind() == reflect.Array:
		return "[lowest, highest] for each name"
	case t.Kind() == reflect.Map:
		return r.takesOne(t.Elem()) + " for each name"
	default:
		return r.takesOne(t)
	}
}

// inlineTakes is what stands behind the name of an entry that is one value.
func inlineTakes(t reflect.Type) string {
	f, _ := own(planOf(t), func(r rules) bool { return r.inline })
	return (&shape{typ: t.Field(f.index).Type, field: f}).takes()
}

func (s *shape) bounds() string {
	r := s.field.rules
	t, ok := s.number()
	num := func(x *float64) string {
		if !ok {
			return strconv.FormatFloat(*x, 'g', -1, 64)
		}
		mm, in := boundText(*x, kindOf(t, r, ""), unit.Metric), boundText(*x, kindOf(t, r, ""), unit.Imperial)
		if mm != in {
			mm += " (" + in + ")"
		}
		return mm
	}
	var out []string
	for _, b := range []struct {
		word  string
		limit *float64
	}{{"above ", r.above}, {"at least ", r.min}, {"at most ", r.max}} {
		if b.limit != nil {
			out = append(out, b.word+num(b.limit))
		}
	}
	switch {
	case r.minCount > 0 && r.minCount == r.maxCount:
		out = append(out, strconv.Itoa(r.minCount)+" of them")
	case r.minCount > 0:
		out = append(out, "at least "+strconv.Itoa(r.minCount)+" of them")
	case r.maxCount > 0:
		out = append(out, "at most "+strconv.Itoa(r.maxCount)+" of them")
	}
	if r.names != nil {
		out = append(out, "names: "+strings.Join(r.names, ", "))
	}
	if r.slug {
		out = append(out, "letters, digits, - and _")
	}
	if r.ascending {
		out = append(out, "the first below the second")
	}
	return strings.Join(out, ", ")
}

func (s *shape) defaults() [2]string {
	if s.typ == systemType {
		return [2]string{"mm", "mm"}
	}
	d := [2]string{s.field.rules.def, s.field.rules.def}
	if in := s.field.rules.defIn; in != "" {
		d[1] = in
	}
	if d[0] == "NaN" {
		return [2]string{}
	}
	return d
}

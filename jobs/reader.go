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

	"gopkg.in/yaml.v3"
)

// format is the newest format of job, card and record that this program reads.
const format = 1

// reader fills the declared fields of a struct from a YAML tree. It goes on after
// a fault, so that one reading finds them all.
type reader struct {
	file   string
	sys    unit.System
	faults Faults
	leaves map[string]string // every scalar as written, by its path
	places map[string][2]int // line and column, by path
	flat   bool              // the tree was made from leaves: a list is a mapping of 0, 1, 2 ...
	notes  Faults            // odd, but no fault
}

// read fills into, a pointer to a struct, from the bytes of a file.
func read(file string, data []byte, into any) (*reader, Faults) {
	root, fs := parseTree(file, data)
	r := newReader(file)
	r.faults = fs
	if root != nil {
		r.root(root, reflect.ValueOf(into).Elem())
	}
	return r, r.faults
}

// fill reads a tree made from leaves, after the checks that a file gets.
func (r *reader) fill(n *yaml.Node, into any) {
	r.faults = treeFaults(r.file, n, 1, nil)
	r.root(n, reflect.ValueOf(into).Elem())
}

func newReader(file string) *reader {
	return &reader{file: file, leaves: map[string]string{}, places: map[string][2]int{}}
}

// root reads the whole file: first what decides how the rest is read.
func (r *reader) root(n *yaml.Node, v reflect.Value) {
	head := map[string]*yaml.Node{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		head[n.Content[i].Value] = n.Content[i+1]
	}
	f := head["format"]
	switch {
	case f == nil:
		r.at(n, "format is missing", "begin the file with format: 1")
	default:
		got, err := unit.Parse(f.Value, unit.Count, unit.Metric)
		switch {
		case f.Kind != yaml.ScalarNode || err != nil || got.Value < 1:
			r.at(f, "format "+quote(f.Value)+" is not known", "write format: 1")
		case got.Value > format:
			// What a newer program meant by its keys is not ours to guess.
			r.faults = nil
			r.at(f, "format "+quote(f.Value)+" is newer than this program", "read it with a newer fliptrue; this one reads format 1")
			return
		}
		r.leaf("format", f)
	}
	if u := head["unit"]; u != nil && u.Value == "in" {
		r.sys = unit.Imperial
	}
	r.object(n, v, "", "")
}

// at adds a fault at a node.
func (r *reader) at(n *yaml.Node, what, hint string) {
	if len(r.faults) < maxFaults {
		r.faults = append(r.faults, Fault{r.file, n.Line, n.Column, what, hint})
	}
}

// fault adds a fault at a path, or at the nearest place above it that is in the file.
func (r *reader) fault(path, what, hint string) {
	if len(r.faults) < maxFaults {
		r.faults = append(r.faults, r.note(path, what, hint))
	}
}

// note is a fault at a path that is not added.
func (r *reader) note(path, what, hint string) Fault {
	f := Fault{File: r.file, What: label(path) + what, Hint: hint}
	for p := path; ; {
		if at, ok := r.places[p]; ok {
			f.Line, f.Column = at[0], at[1]
			return f
		}
		i := strings.LastIndexByte(p, '.')
		if i < 0 {
			return f
		}
		p = p[:i]
	}
}

// label names a path for a person: places in a list count from 1.
func label(path string) string {
	if path == "" {
		return ""
	}
	parts := strings.Split(path, ".")
	var b strings.Builder
	for i, p := range parts {
		if n, err := strconv.Atoi(p); err == nil && i > 0 && parts[i-1] != "tools" {
			fmt.Fprintf(&b, " #%d", n+1)
			continue
		}
		if i > 0 {
			b.WriteByte('.')
		}
		b.WriteString(unescape(p))
	}
	return b.String() + ": "
}

// Paths join escaped keys with dots.
var escaper = strings.NewReplacer("%", "%25", ".", "%2E", ",", "%2C", "#", "%23")
var unescaper = strings.NewReplacer("%2E", ".", "%2C", ",", "%23", "#", "%25", "%")

func escape(key string) string    { return escaper.Replace(key) }
func unescape(part string) string { return unescaper.Replace(part) }

func join(path, key string) string {
	if path == "" {
		return escape(key)
	}
	return path + "." + escape(key)
}

// order is the last part of the path under which the order of a mapping is kept.
const order = "#"

func (r *reader) leaf(path string, n *yaml.Node) {
	r.leaves[path] = n.Value
	r.places[path] = [2]int{n.Line, n.Column}
}

// entry is one key of a mapping.
type entry struct{ key, value *yaml.Node }

// entries lists the keys of a mapping once each; a repeated key is a fault.
func (r *reader) entries(n *yaml.Node, path string) ([]entry, bool) {
	if n.Kind == yaml.AliasNode {
		return nil, false // already a fault
	}
	if n.Kind != yaml.MappingNode {
		if n.Kind == yaml.ScalarNode && n.ShortTag() == "!!null" {
			r.at(n, label(path)+"nothing is given", "give its keys and values, or take the key out")
		} else {
			r.at(n, label(path)+"keys and values are expected here, not "+kindWord(n), "write {key: value, ...}")
		}
		return nil, false
	}
	var list []entry
	first := map[string]*yaml.Node{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k := n.Content[i]
		switch {
		case k.Kind != yaml.ScalarNode:
			if k.Kind != yaml.AliasNode {
				r.at(k, label(path)+"a key must be a single word, not "+kindWord(k), "write key: value")
			}
		case k.Value == "" || strings.TrimSpace(k.Value) != k.Value || k.ShortTag() == "!!null":
			r.at(k, label(path)+"key "+quote(k.Value)+" is empty or has spaces at its ends", "give it a name")
		case len(k.Value) > maxText/2:
			r.at(k, label(path)+"key "+quote(k.Value)+" is too long", fmt.Sprintf("keep it under %d characters", maxText/2))
		case first[k.Value] != nil:
			r.at(k, label(path)+"key "+quote(k.Value)+" stands twice", fmt.Sprintf("keep one; the first is in line %d", first[k.Value].Line))
		default:
			first[k.Value] = k
			list = append(list, entry{k, n.Content[i+1]})
		}
	}
	return list, true
}

func kindWord(n *yaml.Node) string {
	switch n.Kind {
	case yaml.SequenceNode:
		return "a list"
	case yaml.MappingNode:
		return "keys and values"
	}
	return quote(n.Value)
}

// object fills a struct. name is the entry's own key, "" when it has none.
func (r *reader) object(n *yaml.Node, v reflect.Value, path, name string) {
	list, ok := r.entries(n, path)
	if !ok {
		return
	}
	r.places[path] = [2]int{n.Line, n.Column}
	fields := planOf(v.Type())
	var known []string
	if path == "" {
		known = append(known, "format")
	}
	for _, f := range fields {
		if f.key != "" {
			known = append(known, f.key)
		}
	}
	have := map[string]*yaml.Node{}
	for i, e := range list {
		if !slices.Contains(known, e.key.Value) {
			hint := "known here: " + strings.Join(known, ", ")
			if k := nearest(e.key.Value, known); k != "" {
				hint = "did you mean " + quote(k) + "?"
			} else if i > 0 && isDigits(e.key.Value) && e.value.ShortTag() == "!!null" {
				hint = "a comma ends a value inside brackets; write a decimal point"
			}
			r.at(e.key, label(path)+"key "+quote(e.key.Value)+" is not known", hint)
			continue
		}
		have[e.key.Value] = e.value
	}
	for _, f := range fields {
		fv := v.Field(f.index)
		if f.rules.given != "" {
			fv.SetBool(have[f.rules.given] != nil)
		}
		if f.key == "" {
			continue
		}
		node, sub := have[f.key], join(path, f.key)
		switch {
		case node == nil:
			r.absent(fv, f.rules)
			if f.rules.need || f.rules.needIf.holds(have) && f.rules.def == "" {
				r.at(n, label(path)+"key "+quote(f.key)+" is missing"+f.rules.needIf.because(have), "add "+f.key+": "+example(fv.Type(), f.rules))
			}
		case f.rules.onlyIf != nil && have[f.rules.onlyIf.key] != nil && !f.rules.onlyIf.holds(have):
			r.absent(fv, f.rules)
			r.at(node, label(sub)+"has no place with "+f.rules.onlyIf.key+": "+have[f.rules.onlyIf.key].Value,
				"take it out; it goes with "+f.rules.onlyIf.key+": "+strings.Join(f.rules.onlyIf.words, " or "))
		default:
			r.value(node, fv, f.rules, sub, name)
		}
	}
}

func (c *condition) holds(have map[string]*yaml.Node) bool {
	return c != nil && have[c.key] != nil && slices.Contains(c.words, have[c.key].Value)
}

func (c *condition) because(have map[string]*yaml.Node) string {
	if !c.holds(have) {
		return ""
	}
	return ", needed with " + c.key + ": " + have[c.key].Value
}

// absent gives a field that is not in the file its default, and so within it.
func (r *reader) absent(v reflect.Value, f rules) {
	if v.Kind() == reflect.Struct && v.Type() != pointType {
		for _, sub := range planOf(v.Type()) {
			r.absent(v.Field(sub.index), sub.rules)
		}
		return
	}
	text := f.def
	if f.defIn != "" && r.sys == unit.Imperial {
		text = f.defIn
	}
	switch {
	case text == "":
		return
	case text == "NaN":
		v.SetFloat(math.NaN())
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(text)
	case reflect.Bool:
		v.SetBool(text == "true")
	case reflect.Int:
		v.SetInt(int64(mustNumber(text, unit.Count)))
	case reflect.Array:
		for i := range v.Len() {
			v.Index(i).SetFloat(mustNumber(text, kindOf(v.Index(i).Type(), f, "")))
		}
	default:
		v.SetFloat(mustNumber(text, kindOf(v.Type(), f, "")))
	}
}

func mustNumber(text string, k unit.Kind) float64 {
	n, err := unit.Parse(text, k, unit.Metric)
	if err != nil {
		panic("jobs: default " + text + ": " + err.Error())
	}
	return n.Value
}

var (
	systemType  = reflect.TypeFor[unit.System]()
	pointType   = reflect.TypeFor[Point]()
	outlineType = reflect.TypeFor[Outline]()
)

// value fills v from a node, whatever v is.
func (r *reader) value(n *yaml.Node, v reflect.Value, f rules, path, name string) {
	if n.Kind == yaml.AliasNode {
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
		if f.pair && n.Kind == yaml.ScalarNode {
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
func (r *reader) scalar(n *yaml.Node, path string) (string, bool) {
	switch {
	case n.Kind != yaml.ScalarNode:
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
func (r *reader) word(n *yaml.Node, f rules, path string) (string, bool) {
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
		r.fault(path, "file "+quote(text)+" is not a plain name inside the job's folder", "put the file beside the job and write its name, parts joined with /")
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
	}
	panic("jobs: unknown kind " + kind)
}

// number reads one number into a float or an int, and checks its bounds.
func (r *reader) number(n *yaml.Node, v reflect.Value, f rules, path, name string) {
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
		r.fault(path, fmt.Sprintf("%s must be %s %s", quote(text), word, strconv.FormatFloat(limit, 'g', -1, 64)+boundUnit(v.Type(), f, name)), "correct the value")
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

// boundUnit is the unit of a bound as printed: bounds are in internal units.
func boundUnit(t reflect.Type, f rules, name string) string {
	switch kindOf(t, f, name) {
	case unit.KLength:
		return " mm"
	case unit.KAngle:
		return " degrees"
	case unit.KForce:
		return " N"
	case unit.KTorque:
		return " N·mm"
	case unit.KStress:
		return " MPa"
	}
	return ""
}

// items lists the elements of a list.
func (r *reader) items(n *yaml.Node, path, want string) ([]*yaml.Node, bool) {
	if n.Kind == yaml.SequenceNode && !r.flat {
		return n.Content, true
	}
	if n.Kind == yaml.MappingNode && r.flat {
		var list []*yaml.Node
		for i := 0; i+1 < len(n.Content); i += 2 {
			if n.Content[i].Value != strconv.Itoa(i/2) {
				r.at(n, label(path)+"number "+strconv.Itoa(i/2)+" of the list is missing", "the values are not whole; begin the setup anew")
				return nil, false
			}
			list = append(list, n.Content[i+1])
		}
		return list, true
	}
	if n.Kind != yaml.AliasNode {
		r.at(n, label(path)+want+" is expected here, not "+kindWord(n), "write it in square brackets")
	}
	return nil, false
}

// numbers fills the fields or elements of a point or an array from a list of as many.
func (r *reader) numbers(n *yaml.Node, v reflect.Value, which []int, f rules, path, name string) {
	want := fmt.Sprintf("a list of %d numbers", len(which))
	list, ok := r.items(n, path, want)
	if !ok {
		return
	}
	if len(list) != len(which) {
		r.fault(path, fmt.Sprintf("%s is expected here, not %d", want, len(list)), "a comma separates them; decimals take a point")
		return
	}
	for i, k := range which {
		elem := v
		if v.Kind() == reflect.Array {
			elem = v.Index(k)
		} else {
			elem = v.Field(k)
		}
		sub := join(path, strconv.Itoa(i))
		if list[i].Kind == yaml.AliasNode {
			continue
		}
		r.number(list[i], elem, f, sub, name)
	}
}

// slice fills a list, or from keys and values a list of entries that carry their key.
func (r *reader) slice(n *yaml.Node, v reflect.Value, f rules, path, name string) {
	elem := v.Type().Elem()
	if elem.Kind() == reflect.Struct && elem != pointType {
		r.named(n, v, f, path)
		return
	}
	list, ok := r.items(n, path, "a list")
	if !ok {
		return
	}
	switch {
	case len(list) < f.minCount:
		r.fault(path, fmt.Sprintf("%d of at least %d are given", len(list), f.minCount), "add the missing ones")
	case f.maxCount > 0 && len(list) > f.maxCount:
		r.fault(path, fmt.Sprintf("%d are given, at most %d can be", len(list), f.maxCount), "take some out")
	}
	before := len(r.faults)
	for i, item := range list {
		e := reflect.New(elem).Elem()
		r.value(item, e, rules{words: f.words}, join(path, strconv.Itoa(i)), name)
		v.Set(reflect.Append(v, e))
	}
	if v.Type() == outlineType && len(r.faults) == before {
		r.outline(v.Interface().(Outline), path)
	}
}

// named fills a list of structs from keys and values, in file order.
func (r *reader) named(n *yaml.Node, v reflect.Value, f rules, path string) {
	list, ok := r.entries(n, path)
	if !ok {
		return
	}
	fields := planOf(v.Type().Elem())
	nameField, ok := own(fields, func(x rules) bool { return x.name })
	if !ok {
		panic("jobs: " + v.Type().String() + " has no name field")
	}
	inline, isInline := own(fields, func(x rules) bool { return x.inline })
	if r.flat {
		list = r.inOrder(list)
	}
	var keys []string
	for _, e := range list {
		key := e.key.Value
		if nameField.rules.slug && !isSlug(key) {
			r.at(e.key, label(path)+"name "+quote(key)+" cannot stand in an address", "use letters, digits, - and _")
		}
		sub := join(path, key)
		s := reflect.New(v.Type().Elem()).Elem()
		s.Field(nameField.index).SetString(key)
		if isInline {
			r.value(e.value, s.Field(inline.index), inline.rules, sub, key)
		} else {
			r.object(e.value, s, sub, key)
		}
		keys = append(keys, escape(key))
		v.Set(reflect.Append(v, s))
	}
	if len(keys) == 0 && f.need {
		r.fault(path, "is empty", "add at least one")
	}
	if len(keys) > 1 {
		r.leaves[path+"."+order] = strings.Join(keys, ",")
	}
}

// inOrder puts entries made from leaves back into the order kept with them.
func (r *reader) inOrder(list []entry) []entry {
	rank := map[string]int{}
	var kept []entry
	for _, e := range list {
		if e.key.Value != order {
			kept = append(kept, e)
			continue
		}
		for i, k := range strings.Split(e.value.Value, ",") {
			rank[unescape(k)] = i
		}
	}
	slices.SortStableFunc(kept, func(a, b entry) int { return rank[a.key.Value] - rank[b.key.Value] })
	return kept
}

// mapping fills a map with text or whole-number keys.
func (r *reader) mapping(n *yaml.Node, v reflect.Value, f rules, path string) {
	list, ok := r.entries(n, path)
	if !ok {
		return
	}
	if len(list) > 0 {
		v.Set(reflect.MakeMap(v.Type()))
	}
	for _, e := range list {
		name := e.key.Value
		key := reflect.New(v.Type().Key()).Elem()
		if key.Kind() == reflect.Int {
			num, err := unit.Parse(name, unit.Count, unit.Metric)
			if err != nil || strconv.Itoa(int(num.Value)) != name {
				r.at(e.key, label(path)+quote(name)+" is not a plain number", "number them 1, 2, 3 ... as on the machine")
				continue
			}
			key.SetInt(int64(num.Value))
		} else {
			key.SetString(name)
		}
		if f.names != nil && !slices.Contains(f.names, name) {
			hint := "known here: " + strings.Join(f.names, ", ")
			if k := nearest(name, f.names); k != "" {
				hint = "did you mean " + quote(k) + "?"
			}
			r.at(e.key, label(path)+"key "+quote(name)+" is not known", hint)
			continue
		}
		elem := reflect.New(v.Type().Elem()).Elem()
		r.value(e.value, elem, f, join(path, name), name)
		v.SetMapIndex(key, elem)
	}
}

func isDigits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

func isSlug(s string) bool {
	return strings.Trim(s, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_") == "" && len(s) <= 40
}

// example shows how a missing key may look.
func example(t reflect.Type, f rules) string {
	switch {
	case f.words != nil:
		return strings.Join(f.words, " or ")
	case f.file:
		return "a file's name"
	case t == pointType:
		return "[x, y]"
	case t == outlineType:
		return "[[x, y], [x, y], [x, y]]"
	case t.Kind() == reflect.String:
		return "a text"
	case t.Kind() == reflect.Struct, t.Kind() == reflect.Map:
		return "{...}"
	case t.Kind() == reflect.Slice, t.Kind() == reflect.Array:
		return "[...]"
	}
	return "a number"
}

package jobs

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"fliptrue/calc/unit"
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
func (r *reader) fill(n *yamlNode, into any) {
	r.faults = treeFaults(r.file, n, 1, nil)
	r.root(n, reflect.ValueOf(into).Elem())
}

func newReader(file string) *reader {
	return &reader{file: file, leaves: map[string]string{}, places: map[string][2]int{}}
}

// root reads the whole file: first what decides how the rest is read.
func (r *reader) root(n *yamlNode, v reflect.Value) {
	head := map[string]*yamlNode{}
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
		case f.Kind != scalarNode || err != nil || got.Value < 1:
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
func (r *reader) at(n *yamlNode, what, hint string) {
	if len(r.faults) < maxFaults {
		r.faults = append(r.faults, Fault{r.file, n.Line, n.Column, harmless(what), harmless(hint)})
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
	f := Fault{File: r.file, What: harmless(label(path) + what), Hint: harmless(hint)}
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

// Path joins keys to the path of a value.
func Path(keys ...string) string {
	path := ""
	for _, k := range keys {
		path = join(path, k)
	}
	return path
}

// order is the last part of the path under which the order of a mapping is kept.
const order = "#"

func (r *reader) leaf(path string, n *yamlNode) {
	r.leaves[path] = n.Value
	r.places[path] = [2]int{n.Line, n.Column}
}

// entry is one key of a mapping.
type entry struct{ key, value *yamlNode }

// entries lists the keys of a mapping once each; a repeated key is a fault.
func (r *reader) entries(n *yamlNode, path string) ([]entry, bool) {
	if n.Kind == aliasNode {
		return nil, false // already a fault
	}
	if n.Kind != mappingNode {
		if n.Kind == scalarNode && n.ShortTag() == "!!null" {
			r.at(n, label(path)+"nothing is given", "give its keys and values, or take the key out")
		} else {
			r.at(n, label(path)+"keys and values are expected here, not "+kindWord(n), "write {key: value, ...}")
		}
		return nil, false
	}
	var list []entry
	first := map[string]*yamlNode{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k := n.Content[i]
		switch {
		case k.Kind != scalarNode:
			if k.Kind != aliasNode {
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

func kindWord(n *yamlNode) string {
	switch n.Kind {
	case sequenceNode:
		return "a list"
	case mappingNode:
		return "keys and values"
	}
	return quote(n.Value)
}

// object fills a struct. name is the entry's own key, "" when it has none.
func (r *reader) object(n *yamlNode, v reflect.Value, path, name string) {
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
	have := map[string]*yamlNode{}
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

func (c *condition) holds(have map[string]*yamlNode) bool {
	return c != nil && have[c.key] != nil && slices.Contains(c.words, have[c.key].Value)
}

func (c *condition) because(have map[string]*yamlNode) string {
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

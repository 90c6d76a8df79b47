package jobs

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"fliptrue/calc/unit"
)

// items lists the elements of a list.
func (r *reader) items(n *yamlNode, path, want string) ([]*yamlNode, bool) {
	if n.Kind == sequenceNode && !r.flat {
		return n.Content, true
	}
	if n.Kind == mappingNode && r.flat {
		var list []*yamlNode
		for i := 0; i+1 < len(n.Content); i += 2 {
			if n.Content[i].Value != strconv.Itoa(i/2) {
				r.at(n, label(path)+"number "+strconv.Itoa(i/2)+" of the list is missing", "the values are not whole; begin the setup anew")
				return nil, false
			}
			list = append(list, n.Content[i+1])
		}
		return list, true
	}
	if n.Kind != aliasNode {
		r.at(n, label(path)+want+" is expected here, not "+kindWord(n), "write it in square brackets")
	}
	return nil, false
}

// numbers fills the fields or elements of a point or an array from a list of as many.
func (r *reader) numbers(n *yamlNode, v reflect.Value, which []int, f rules, path, name string) {
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
		if list[i].Kind == aliasNode {
			continue
		}
		r.number(list[i], elem, f, sub, name)
	}
}

// slice fills a list, or from keys and values a list of entries that carry their key.
func (r *reader) slice(n *yamlNode, v reflect.Value, f rules, path, name string) {
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
	case len(list) > maxList:
		r.fault(path, fmt.Sprintf("a list of %d", len(list)), fmt.Sprintf("at most %d are read", maxList))
		return
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
func (r *reader) named(n *yamlNode, v reflect.Value, f rules, path string) {
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
func (r *reader) mapping(n *yamlNode, v reflect.Value, f rules, path string) {
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
		if f.reasoned && e.value.Kind == mappingNode {
			r.withReason(e.value, elem, f, join(path, name), name)
		} else {
			r.value(e.value, elem, f, join(path, name), name)
		}
		v.SetMapIndex(key, elem)
	}
}

// withReason reads {value: V, reason: R}; the reason is kept among the leaves.
func (r *reader) withReason(n *yamlNode, v reflect.Value, f rules, path, name string) {
	list, ok := r.entries(n, path)
	if !ok {
		return
	}
	r.places[path] = [2]int{n.Line, n.Column}
	var value, reason bool
	for _, e := range list {
		switch e.key.Value {
		case "value":
			value = true
			r.value(e.value, v, f, join(path, "value"), name)
		case "reason":
			_, reason = r.word(e.value, rules{}, join(path, "reason"))
		default:
			r.at(e.key, label(path)+"key "+quote(e.key.Value)+" is not known", "known here: value, reason")
		}
	}
	if !value || !reason {
		r.fault(path, "a value and its reason are wanted together", "write "+name+": {value: 0.03, reason: why}, or the value alone")
	}
}

func isDigits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

func isSlug(s string) bool {
	return strings.Trim(s, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_") == "" && len(s) <= 40
}

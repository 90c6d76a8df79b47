package jobs

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"sync"
)

// The files are declared by the struct tags of Job, Machine and Fixture: key is the
// key in the file, rule what its value must satisfy. A new field is one line there.
//
//	need             the key must be there; "need kind=a|b" only when sibling key kind is a or b
//	only k=a|b       the key may be there only when sibling key k is a or b; @second stands for the kinds of a second side
//	words a|b        a text is one of these; names a|b: a key of this map is
//	min, above, max  bounds of a number, in internal units
//	default, default-in   value when absent, as typed; the second for an inch file
//	kind K           what a plain number is when not a length: scalar, stress, degrees
//	per-name a=K     the same by the entry's own name
//	pair             one number serves for both ends; ascending: the first is below the second
//	min-count, max-count  of a list
//	file             a file name inside the folder
//	name, inline     the field holds the entry's own key; its whole value
//	slug             a name usable in an address: letters, digits, - and _
//	reasoned         a value of this map may stand with its reason: {value: V, reason: R}
//	given K          true when sibling key K is there
//
// Beside them stand the words for a person: says is the meaning in one sentence, sign what
// plus and minus mean, eg an example; Keys gives them out.
type rules struct {
	need, pair, ascending, file, name, inline, slug bool
	reasoned                                        bool
	needIf, onlyIf                                  *condition
	words, names                                    []string
	kind, def, defIn, given                         string
	perName                                         map[string]string
	min, above, max                                 *float64
	minCount, maxCount                              int
}

// condition says that a sibling key has one of the words.
type condition struct {
	key   string
	words []string
}

// field is one field of a struct that the reader fills.
type field struct {
	index          int
	key            string
	rules          rules
	says, sign, eg string
}

var plans sync.Map // reflect.Type → []field

// planOf returns the declared fields of a struct type.
func planOf(t reflect.Type) []field {
	if p, ok := plans.Load(t); ok {
		return p.([]field)
	}
	var fields []field
	for i := range t.NumField() {
		key, ok := t.Field(i).Tag.Lookup("key")
		if ok {
			tag := t.Field(i).Tag
			fields = append(fields, field{i, key, parseRules(tag.Get("rule")), tag.Get("says"), tag.Get("sign"), tag.Get("eg")})
		}
	}
	plans.Store(t, fields)
	return fields
}

// own finds the field with the entry's own name, or its inline field.
func own(fields []field, is func(rules) bool) (field, bool) {
	for _, f := range fields {
		if is(f.rules) {
			return f, true
		}
	}
	return field{}, false
}

func parseRules(tag string) rules {
	var r rules
	for item := range strings.SplitSeq(tag, ";") {
		word, arg, _ := strings.Cut(strings.TrimSpace(item), " ")
		if word == "" {
			continue
		}
		set, ok := ruleWords[word]
		if !ok {
			panic(fmt.Sprintf("jobs: unknown rule %q", item))
		}
		set(&r, arg)
	}
	return r
}

// ruleWords are the words of a tag, each with what it makes of the rules.
var ruleWords = map[string]func(r *rules, arg string){
	"need": func(r *rules, arg string) {
		r.needIf = parseCondition(arg)
		r.need = r.needIf == nil
	},
	"only":       func(r *rules, arg string) { r.onlyIf = parseCondition(arg) },
	"words":      func(r *rules, arg string) { r.words = strings.Split(arg, "|") },
	"names":      func(r *rules, arg string) { r.names = strings.Split(arg, "|") },
	"min":        func(r *rules, arg string) { r.min = ruleNumber(arg) },
	"above":      func(r *rules, arg string) { r.above = ruleNumber(arg) },
	"max":        func(r *rules, arg string) { r.max = ruleNumber(arg) },
	"min-count":  func(r *rules, arg string) { r.minCount = int(*ruleNumber(arg)) },
	"max-count":  func(r *rules, arg string) { r.maxCount = int(*ruleNumber(arg)) },
	"default":    func(r *rules, arg string) { r.def = arg },
	"default-in": func(r *rules, arg string) { r.defIn = arg },
	"kind":       func(r *rules, arg string) { r.kind = arg },
	"per-name": func(r *rules, arg string) {
		r.perName = map[string]string{}
		for pair := range strings.SplitSeq(arg, "|") {
			name, kind, _ := strings.Cut(pair, "=")
			r.perName[name] = kind
		}
	},
	"given":     func(r *rules, arg string) { r.given = arg },
	"pair":      func(r *rules, _ string) { r.pair = true },
	"ascending": func(r *rules, _ string) { r.ascending = true },
	"file":      func(r *rules, _ string) { r.file = true },
	"name":      func(r *rules, _ string) { r.name = true },
	"inline":    func(r *rules, _ string) { r.inline = true },
	"slug":      func(r *rules, _ string) { r.slug = true },
	"reasoned":  func(r *rules, _ string) { r.reasoned = true },
}

// ruleNumber is the number of a rule.
func ruleNumber(arg string) *float64 {
	x, err := strconv.ParseFloat(arg, 64)
	if err != nil {
		panic(fmt.Sprintf("jobs: a rule's number is %q", arg))
	}
	return &x
}

func parseCondition(arg string) *condition {
	key, words, ok := strings.Cut(arg, "=")
	if !ok {
		return nil
	}
	return &condition{key, strings.Split(strings.ReplaceAll(words, "@second", strings.Join(secondSides, "|")), "|")}
}

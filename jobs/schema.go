package jobs

import (
	"encoding/json"
	"reflect"
	"strings"
)

// Schema is a JSON Schema (draft-07, which editors' YAML support knows) of one of Files but
// the record, made from the declared table. A file that passes it may still have faults:
// what keys say together only the reader checks.
func Schema(file string) []byte {
	root := shapeOf(file)
	o := objectSchema(root.inside)
	o["$schema"] = "http://json-schema.org/draft-07/schema#"
	o["$comment"] = SchemaMark
	o["title"] = "fliptrue " + file + " file"
	b, err := json.MarshalIndent(o, "", " ")
	if err != nil {
		panic("jobs: schema: " + err.Error())
	}
	return append(b, '\n')
}

// SchemaMark stands in every schema that this program writes.
const SchemaMark = "made by fliptrue keys --schema; not for your hand"

type schema = map[string]any

// objectSchema is the schema of a group of keys.
func objectSchema(inside []*shape) schema {
	props, needed := schema{}, []string{}
	for _, s := range inside {
		props[s.key] = s.schema()
		if s.field.rules.need {
			needed = append(needed, s.key)
		}
	}
	o := schema{"type": "object", "properties": props, "additionalProperties": false}
	if len(needed) > 0 {
		o["required"] = needed
	}
	if all := conditions(inside); len(all) > 0 {
		o["allOf"] = all
	}
	return o
}

// conditions are what a key wants or forbids of its neighbours.
func conditions(inside []*shape) []any {
	var all []any
	when := func(c *condition, then schema) {
		all = append(all, schema{"if": schema{"required": []string{c.key}, "properties": schema{c.key: schema{"enum": c.words}}}, "then": then})
	}
	for _, s := range inside {
		r := s.field.rules
		if r.needIf != nil && r.def == "" {
			when(r.needIf, schema{"required": []string{s.key}})
		}
		if r.onlyIf != nil {
			all = append(all, schema{"if": schema{"required": []string{r.onlyIf.key, s.key}},
				"then": schema{"properties": schema{r.onlyIf.key: schema{"enum": r.onlyIf.words}}}})
		}
	}
	return all
}

// schema is what may stand behind one key.
func (s *shape) schema() schema {
	o := s.value()
	words := []string{s.field.says}
	if u := s.units(); u[0] != "" && len(s.inside) == 0 {
		words = append(words, "A bare number is in "+u[0]+inOther(u)+".")
	}
	if b := s.bounds(); b != "" && len(s.inside) == 0 {
		words = append(words, strings.ToUpper(b[:1])+b[1:]+".")
	}
	if s.field.sign != "" {
		words = append(words, "Sign: "+s.field.sign+".")
	}
	if d := s.defaults(); d[0] != "" {
		words = append(words, "Left out: "+d[0]+".")
	}
	if text := strings.TrimSpace(strings.Join(words, " ")); text != "" {
		o["description"] = text
	}
	return o
}

func inOther(u [2]string) string {
	if u[0] == u[1] {
		return ""
	}
	return ", in an inch file " + u[1]
}

// numberSchema is a number as the reader takes it: bare, or a text that may carry a unit.
func numberSchema() schema { return schema{"type": []string{"number", "string"}} }

func listOf(item schema, least, most int) schema {
	o := schema{"type": "array", "items": item}
	if least > 0 {
		o["minItems"] = least
	}
	if most > 0 {
		o["maxItems"] = most
	}
	return o
}

func (s *shape) value() schema {
	switch {
	case s.repeat:
		return s.field.rules.named(s.inside[0].each())
	case len(s.inside) > 0:
		return objectSchema(s.inside)
	case s.typ.Kind() == reflect.Map:
		each := s.single(s.typ.Elem())
		if s.field.rules.reasoned {
			each = schema{"anyOf": []any{each, schema{"type": "object", "properties": schema{"value": each, "reason": schema{"type": "string"}},
				"required": []string{"value", "reason"}, "additionalProperties": false}}}
		}
		return s.field.rules.named(each)
	}
	return s.single(s.typ)
}

// named are values of one schema by name.
func (r rules) named(each schema) schema {
	o := schema{"type": "object", "additionalProperties": each}
	if r.names != nil {
		o["propertyNames"] = schema{"enum": r.names}
	}
	return o
}

// each is the schema of one of the groups that stand by name.
func (s *shape) each() schema {
	switch f, inline := own(planOf(s.typ), func(r rules) bool { return r.inline }); {
	case s.typ == reflect.TypeFor[Change]():
		return schema{"type": "object"}
	case inline:
		return (&shape{typ: s.typ.Field(f.index).Type, field: f}).value()
	}
	return objectSchema(s.inside)
}

// single is the schema of a value that is no group.
func (s *shape) single(t reflect.Type) schema {
	r := s.field.rules
	point := listOf(numberSchema(), 2, 2)
	switch {
	case t == systemType:
		return schema{"enum": []string{"mm", "in"}}
	case s.key == "format":
		return schema{"enum": []int{format}}
	case t.Kind() == reflect.Slice && t != outlineType:
		return listOf(s.single(t.Elem()), r.minCount, r.maxCount)
	case r.words != nil:
		return schema{"enum": r.words}
	case t == pointType:
		return point
	case t == outlineType:
		return listOf(point, 3, 500)
	case t.Kind() == reflect.Bool:
		return schema{"type": "boolean"}
	case t.Kind() == reflect.String:
		return schema{"type": []string{"string", "number"}} // a name may be 7
	case t.Kind() == reflect.Array && r.pair:
		return schema{"anyOf": []any{numberSchema(), listOf(numberSchema(), t.Len(), t.Len())}}
	case t.Kind() == reflect.Array:
		return listOf(numberSchema(), t.Len(), t.Len())
	}
	return numberSchema()
}

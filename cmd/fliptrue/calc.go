package main

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/unit"

	"github.com/spf13/cobra"
)

// estimateWords stand under every computed force.
const estimateWords = "calculated forces are estimates (factor 2 for plastics and wood): prove them with a skim and a stripped " +
	"sacrificial thread"

// calcFlag is one number or word that a calculation takes.
type calcFlag struct {
	name, def, usage string
	kind             unit.Kind
	word             bool // a text, not a number
	need             bool
	zero             bool // may be 0
}

// calculation is one one-off calculation.
type calculation struct {
	name, short, long string
	flags             []calcFlag
	run               func(calcIn) (calcOut, error)
}

// calcIn are the flags as understood.
type calcIn struct {
	num   map[string]float64 // internal units; absent when not given and without default
	text  map[string]string
	yes   map[string]bool
	given map[string]bool
	sys   unit.System
}

func (in calcIn) len(name string) unit.Length { return unit.Length(in.num[name]) }

// calcValue is one result.
type calcValue struct {
	key, label string
	value      float64
	kind       unit.Kind
	text       string // instead of the value
	number     bool   // in JSON the value, not the text
}

// calcOut is what a calculation comes to.
type calcOut struct {
	values []calcValue
	notes  []string
	no     bool // it does not hold, reach or fit
	says   string
}

func (in calcIn) show(v float64, k unit.Kind) string { return unit.Show(v, k, in.sys, 0) }

func (in calcIn) rough(v float64, k unit.Kind) string {
	return unit.Rough(v, k, in.sys) + " " + unit.UnitName(k, in.sys)
}

func (o *calcOut) put(key, label string, v float64, k unit.Kind) {
	o.values = append(o.values, calcValue{key: key, label: label, value: v, kind: k})
}

// putAs is a number that is printed otherwise; in JSON it is the number.
func (o *calcOut) putAs(key, label string, v float64, text string) {
	o.values = append(o.values, calcValue{key: key, label: label, value: v, text: text, number: true})
}

// say is a result in words.
func (o *calcOut) say(key, label, text string) {
	o.values = append(o.values, calcValue{key: key, label: label, text: text})
}

// calculations in the order of the help.
var calculations = []calculation{strapCalc, threadCalc, drillCalc, bowCalc, ceilingCalc, reachCalc, ringCalc}

// calcJSON is one calculation. Numbers in mm, N, N·mm, MPa, rad; stiffness in mm/N; null
// where a result is unbounded.
type calcJSON struct {
	Calc    string         `json:"calc"`
	Inputs  map[string]any `json:"inputs"`
	Results map[string]any `json:"results"`
	Says    string         `json:"says"` // PASS, FAIL, NOT PROVEN, or "" where nothing is judged
	Notes   []string       `json:"notes"`
}

func calcCommand(r *runner) *cobra.Command {
	names := make([]string, len(calculations))
	for i, c := range calculations {
		names[i] = c.name
	}
	list := strings.Join(names, " ")
	parent := &cobra.Command{
		Use: "calc " + strings.Join(names, "|"), Short: "Calculate one thing: will it hold, will it reach",
		Long: "Calculates one thing from flags. A value may carry its own unit; bare numbers are in --unit.",
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return r.do(exitUsage, &usageError{"calc wants to know what", "one of " + list})
			}
			return r.do(exitUsage, &usageError{"unknown calculation " + quoted(args[0]), "one of " + list})
		},
	}
	for _, calc := range calculations {
		texts := map[string]*string{}
		var asJSON bool
		var sysWord string
		c := &cobra.Command{Use: calc.name, Short: calc.short, Long: calc.long, Args: noMore}
		f := c.Flags()
		f.BoolVar(&asJSON, "json", false, "print JSON")
		f.StringVar(&sysWord, "unit", "mm", "unit of bare numbers and of the result: mm or in")
		yes := map[string]*bool{}
		for _, fl := range calc.flags {
			usage := fl.usage
			if fl.need {
				usage += " (required)"
			}
			if fl.word && fl.def == "false" {
				yes[fl.name] = f.Bool(fl.name, false, usage)
				continue
			}
			texts[fl.name] = f.String(fl.name, fl.def, usage)
		}
		c.RunE = func(c *cobra.Command, _ []string) error {
			in := calcIn{num: map[string]float64{}, text: map[string]string{}, yes: map[string]bool{}, given: map[string]bool{}}
			for name, b := range yes {
				in.yes[name] = *b
			}
			for name, t := range texts {
				in.text[name] = *t
				in.given[name] = c.Flags().Changed(name)
			}
			return r.do(runCalc(r.env, calc, in, sysWord, asJSON))
		}
		parent.AddCommand(c)
	}
	return parent
}

func noMore(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return &usageError{quoted(args[0]) + " is more than " + c.CommandPath() + " takes", "give values by flags, see " + c.CommandPath() +
		" --help"}
}

// runCalc reads the flags, calculates and prints.
func runCalc(e *env, c calculation, in calcIn, sysWord string, asJSON bool) (exit, error) {
	switch sysWord {
	case "mm":
	case "in":
		in.sys = unit.Imperial
	default:
		return exitUsage, &usageError{"unit " + quoted(sysWord) + " is not known", "write --unit mm or --unit in"}
	}
	inputs, err := in.read(c)
	if err != nil {
		return exitUsage, err
	}
	out, err := c.run(in)
	var usage *usageError
	switch {
	case errors.As(err, &usage):
		return exitUsage, err
	case err != nil:
		what, hint := splitHint(err.Error())
		return exitInput, &inputError{"", what, hint}
	}
	code := exitOK
	if out.no {
		code = exitNo
	}
	if asJSON {
		e.json(out.json(c.name, inputs))
	} else {
		fmt.Fprint(e.out, out.lines(in.sys))
	}
	return code, nil
}

// read parses the flags of a calculation into numbers, and gives them by the names that JSON has.
func (in calcIn) read(c calculation) (map[string]any, error) {
	inputs := map[string]any{}
	for _, fl := range c.flags {
		if fl.word && fl.def == "false" {
			inputs[key(fl.name)] = in.yes[fl.name]
			continue
		}
		text := strings.TrimSpace(in.text[fl.name])
		if text == "" {
			if fl.need {
				return nil, &usageError{"calc " + c.name + " wants --" + fl.name, fl.usage}
			}
			continue
		}
		if fl.word {
			inputs[key(fl.name)] = text
			continue
		}
		sys := in.sys
		if !in.given[fl.name] {
			sys = unit.Metric // a default is written in mm
		}
		n, err := unit.Parse(text, fl.kind, sys)
		if err != nil {
			what, hint := splitHint(err.Error())
			return nil, &usageError{"--" + fl.name + " " + what, hint}
		}
		if n.Value < 0 || n.Value == 0 && !fl.zero {
			return nil, &usageError{"--" + fl.name + " " + quoted(text) + " is not above 0", "look at the sign and the decimal point"}
		}
		in.num[fl.name] = n.Value
		inputs[key(fl.name)] = n.Value
	}
	return inputs, nil
}

// json is the result as an object.
func (o calcOut) json(name string, inputs map[string]any) calcJSON {
	j := calcJSON{Calc: name, Inputs: inputs, Results: map[string]any{}, Says: o.says, Notes: append([]string{}, o.notes...)}
	for _, v := range o.values {
		if v.text != "" && !v.number {
			j.Results[v.key] = v.text
		} else {
			j.Results[v.key] = finite(v.value)
		}
	}
	return j
}

// lines are the result in words: values under each other, what it comes to, notes.
func (o calcOut) lines(sys unit.System) string {
	var b strings.Builder
	w := 0
	for _, v := range o.values {
		w = max(w, len([]rune(v.label)))
	}
	for _, v := range o.values {
		text := v.text
		switch {
		case text != "":
		case math.IsInf(v.value, 0):
			text = "no limit"
		case v.kind == unit.Scalar:
			text = fmt.Sprintf("%.3g", v.value)
		case v.kind == unit.KForce:
			text = unit.Show(v.value, v.kind, sys, 0.1)
		default:
			text = unit.Show(v.value, v.kind, sys, 0)
		}
		fmt.Fprintf(&b, "%-*s  %s\n", w, v.label, text)
	}
	if o.says != "" {
		b.WriteString(o.says + "\n")
	}
	for _, n := range o.notes {
		b.WriteString("- " + n + "\n")
	}
	return b.String()
}

// key is a flag's name as a JSON key.
func key(name string) string { return strings.ReplaceAll(name, "-", "_") }

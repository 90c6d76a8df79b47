package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// question is one thing that new asks.
type question struct {
	ask     string
	why     string   // what ? says
	words   []string // the only answers, nil for any text
	def     string
	to      *string
	correct func(string) error // nil when any text will do
}

// kindSet is a choice of setups.
type kindSet struct {
	name  string
	kinds []string
}

var kindSets = []kindSet{
	{"second side", []string{"second-side"}},
	{"both sides", []string{"first-side", "second-side"}},
	{"first side", []string{"first-side"}},
	{"ball", []string{"ball"}},
	{"tram", []string{"tram"}},
	{"all", []string{"ball", "tram", "first-side", "second-side"}},
}

// kindOf are the kinds of a choice, those of the first where there is none of the name.
func kindOf(name string) []string {
	return kindSets[max(0, slices.IndexFunc(kindSets, func(k kindSet) bool { return k.name == name }))].kinds
}

func kindNames() []string {
	var out []string
	for _, k := range kindSets {
		out = append(out, k.name)
	}
	return out
}

func presetNames() []string {
	var out []string
	for _, p := range jobs.Presets {
		out = append(out, p.Name)
	}
	return out
}

const machineEnd = ".machine.yaml"

// machineCards are the machine cards in the folder.
func (o *newOptions) machineCards(e *env) []string {
	names, _ := e.disk.List(o.dir)
	return slices.DeleteFunc(names, func(n string) bool { return !strings.HasSuffix(n, machineEnd) || n == machineEnd })
}

// machineFile is the card of the machine: one that is there, or one named by the machine.
func (o *newOptions) machineFile(e *env) string {
	m := o.answers.Machine
	for _, c := range o.machineCards(e) {
		if m == c || m == strings.TrimSuffix(c, machineEnd) || fileName(m)+machineEnd == c {
			return c
		}
	}
	return fileName(m) + machineEnd
}

// chosenCard reads the machine card that was chosen, once; what it says is not asked.
func (o *newOptions) chosenCard(e *env) *jobs.Machine {
	file := o.machineFile(e)
	if o.answers.Machine == "" || !slices.Contains(o.machineCards(e), file) {
		return nil
	}
	if o.known == nil || filepath.Base(o.known.Path) != file {
		m, faults := jobs.ReadMachine(e.disk, filepath.Join(o.dir, file))
		if len(faults) > 0 {
			return nil // told when the job is tried
		}
		o.known = &m
	}
	return o.known
}

// fileName makes a plain file name of a name.
func fileName(name string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(name) {
		switch {
		case 'a' <= r && r <= 'z', '0' <= r && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	if s := strings.Trim(b.String(), "-"); s != "" {
		return s[:min(len(s), 40)]
	}
	return "job"
}

// has says that one of these kinds of setup is wanted.
func (o *newOptions) has(kinds ...string) bool {
	return slices.ContainsFunc(kinds, func(k string) bool { return slices.Contains(kindOf(o.kinds), k) })
}

// questions are those that are asked with the answers so far, in an order in which a person
// can answer them: the part, how it is held, then the machine.
func (o *newOptions) questions(e *env) []question {
	a := &o.answers
	unitQ := question{ask: "unit", why: keyMeans("job", "unit"), words: []string{"mm", "in"}, def: "mm", to: &o.unit}
	if o.card {
		return []question{unitQ, o.sizeQuestion(), o.fixtureQuestion()}
	}
	qs := []question{
		{ask: "name of the job", why: "The files are named by it: lid makes lid.job.yaml and lid.fixture.yaml.", def: "compass-box lid", to: &a.Job},
		unitQ,
		{ask: "which clampings", why: "second side: on its fixture, side 1 is cut already. both sides: side 1 in a vise before it. ball calibrates the probe, tram squares the spindle.",
			words: kindNames(), def: "second side", to: &o.kinds},
	}
	if o.has("first-side", "second-side") {
		qs = append(qs, question{ask: "material of the part", why: "Shipped are: " + strings.Join(hold.Library{}.Names(), ", ") +
			". Another goes under materials of the job, with its numbers.", def: "walnut-stabilised", to: &a.Material, correct: knownMaterial},
			o.sizeQuestion())
	}
	if o.has("second-side") {
		qs = append(qs, o.secondQuestions()...)
	}
	qs = append(qs, o.machineQuestions(e)...)
	if o.has("first-side", "second-side") {
		qs = append(qs, o.findsQuestion(), question{ask: "work offset", why: keyMeans("job", "setups.NAME.offset"),
			words: []string{"G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"}, def: "G54", to: &a.Offset})
	}
	o.likeBefore(qs)
	return qs
}

func (o *newOptions) sizeQuestion() question {
	return question{ask: "finished size of the part, length x width x thickness", why: keyMeans("job", "part.size") +
		" Type it as 96 x 64 x 16; each may carry its own unit.",
		def: map[unit.System]string{unit.Metric: "96 x 64 x 16", unit.Imperial: "3.75 x 2.5 x 0.625"}[o.system()], to: &o.size,
		correct: func(s string) error { _, err := o.sizes(s); return err }}
}

func (o *newOptions) fixtureQuestion() question {
	return question{ask: "what is engraved on the fixture", why: keyMeans("fixture", "fixture"), def: "FX-1", to: &o.answers.Fixture}
}

// secondQuestions are how the second side is held and turned.
func (o *newOptions) secondQuestions() []question {
	a := &o.answers
	return []question{
		{ask: "hold-down: T fixture tapped before, M holes matched, S holes made on side 1",
			why: keyMeans("job", "setups.NAME.hold-down"), words: []string{"T", "M", "S"}, def: "T", to: &a.HoldDown},
		{ask: "axis the part is turned about", why: keyMeans("job", "setups.NAME.flip") +
			" About X its front and rear change places, about Y its left and right.", words: []string{"x", "y"}, def: "x", to: &a.Flip},
		{ask: "Z0 of the second side's program",
			why:   "floor: on the pocket floor, heights are plus. finished top: on the part's finished top, cuts are minus.",
			words: []string{"floor", "finished top"}, def: "floor", to: &a.Z0},
		o.fixtureQuestion()}
}

// machineQuestions are which machine it is, and what a new one can; a card of this folder says so itself.
func (o *newOptions) machineQuestions(e *env) []question {
	a := &o.answers
	machine := question{ask: "name of the machine", why: "The machine card is named by it; several jobs share one.", def: "bench mill",
		to: &a.Machine}
	if cards := o.machineCards(e); len(cards) > 0 {
		machine.ask, machine.def = "machine: a card of this folder ("+strings.Join(cards, ", ")+"), or the name of a new one",
			strings.TrimSuffix(cards[0], machineEnd)
	}
	if card := o.chosenCard(e); card != nil {
		if o.probe = "no"; card.Probe != nil {
			o.probe = "yes"
		}
		return []question{machine}
	}
	can := question{ask: "what the machine can hold", why: presetWhy(o.system()), words: presetNames(), def: "bench", to: &a.Preset}
	if o.probe == "no" { // what a dial or an edge finder can prove
		can.def = "small/hobby"
	}
	return []question{machine, {ask: "the machine has a touch probe", why: "With no, edges and bores are found by dial, edge finder, pin or " +
		"paper.", words: []string{"yes", "no"}, def: "yes", to: &o.probe}, can}
}

// findsQuestion is what bores and edges are found with; machineQuestions has the answer about the probe.
func (o *newOptions) findsQuestion() question {
	finds := question{ask: "found with", why: keyMeans("job", "setups.NAME.finds"), words: []string{"probe", "dial", "edge finder", "pin",
		"paper"}, def: "probe", to: &o.answers.Finds}
	switch first := o.has("first-side"); {
	case o.probe == "no" && first:
		finds.words, finds.def = []string{"edge finder", "paper"}, "edge finder"
	case o.probe == "no":
		finds.words, finds.def = finds.words[1:], "dial"
	case first:
		finds.words = []string{"probe", "edge finder", "paper"}
	}
	return finds
}

// likeBefore puts the answers of another job in the place of the defaults.
func (o *newOptions) likeBefore(qs []question) {
	j := o.like
	if j == nil {
		return
	}
	defaults := map[*string]string{&o.unit: j.Unit.String(), &o.answers.Material: j.Part.Material, &o.answers.Machine: strings.TrimSuffix(
		j.Card, machineEnd)}
	var size []string
	for _, v := range j.Part.Size {
		size = append(size, strings.TrimSuffix(unit.Write(v, unit.KLength, j.Unit), j.Unit.String()))
	}
	if j.Part.Size[0] > 0 {
		defaults[&o.size] = strings.Join(size, " x ")
	}
	var kinds []string
	for _, s := range j.Setups {
		kinds = append(kinds, s.Kind)
		defaults[&o.answers.Offset], defaults[&o.answers.Finds] = s.Offset, s.Finds
		if s.Kind == "second-side" {
			defaults[&o.answers.HoldDown], defaults[&o.answers.Flip], defaults[&o.answers.Z0] = s.HoldDown, s.Flip, s.Z0
		}
	}
	for _, k := range kindSets { // the largest that it has whole, all being last
		whole := !slices.ContainsFunc(k.kinds, func(kind string) bool {
			return !slices.Contains(kinds, kind) && (kind != "ball" || j.Machine.Probe != nil)
		})
		if whole && len(k.kinds) >= len(kindOf(defaults[&o.kinds])) {
			defaults[&o.kinds] = k.name
		}
	}
	for i, q := range qs {
		if d := defaults[q.to]; d != "" && (q.words == nil || slices.Contains(q.words, d)) {
			qs[i].def = d
		}
	}
}

// keyMeans is the meaning of a key, in the words of its table.
func keyMeans(file, path string) string {
	for _, k := range jobs.Keys() {
		if k.File == file && k.Path == path {
			return k.Means
		}
	}
	panic("fliptrue: no key " + path)
}

func presetWhy(sys unit.System) string {
	var out []string
	for _, p := range jobs.Presets {
		out = append(out, fmt.Sprintf("%s: allowance %s %s, lost motion %s %s", p.Name, p.Allowance[sys], sys, p.Backlash[sys], sys))
	}
	return strings.Join(out, "; ") + ". Common practice for small mills; each number is there to be edited."
}

// knownMaterial refuses a material whose numbers nobody has.
func knownMaterial(name string) error {
	if _, err := (hold.Library{}).Like(name); err != nil {
		names := hold.Library{}.Names()
		near := slices.DeleteFunc(slices.Clone(names), func(n string) bool { return name == "" || !strings.HasPrefix(n, strings.ToLower(name)) })
		if n := jobs.Nearest(name, names); n != "" && !slices.Contains(near, n) {
			near = append(near, n)
		}
		if len(near) == 0 {
			return fmt.Errorf("%s is not shipped; take one of: %s; yours can go under materials of the job then", quoted(name),
				strings.Join(names, ", "))
		}
		return fmt.Errorf("%s is not shipped; did you mean %s?", quoted(name), strings.Join(near, " or "))
	}
	return nil
}

// sizes takes a size apart: 96 x 64 x 16, 96x64x16 or 96 64 16.
func (o *newOptions) sizes(s string) ([3]string, error) {
	var out [3]string
	fields := strings.FieldsFunc(s, func(r rune) bool { return r == 'x' || r == 'X' || r == ' ' || r == '\u00d7' })
	if len(fields) != 3 {
		return out, errors.New("three lengths are wanted; type them as 96 x 64 x 16")
	}
	for i, f := range fields {
		n, err := unit.Parse(f, unit.KLength, o.system())
		if err != nil {
			return out, err
		}
		if n.Value <= 0 {
			return out, fmt.Errorf("%s is not above 0; type a length", quoted(f))
		}
		out[i] = f
	}
	return out, nil
}

func (o *newOptions) system() unit.System {
	if o.unit == "in" {
		return unit.Imperial
	}
	return unit.Metric
}

// answer checks a text as the answer to a question and puts it in its place.
func (q question) answer(text string) error {
	text = strings.TrimSpace(text)
	if q.words != nil {
		i := slices.IndexFunc(q.words, func(w string) bool { return strings.EqualFold(w, text) })
		if i < 0 {
			return fmt.Errorf("%s is none of the answers; type one of: %s", quoted(text), strings.Join(q.words, ", "))
		}
		text = q.words[i]
	}
	if q.correct != nil {
		if err := q.correct(text); err != nil {
			return err
		}
	}
	*q.to = text
	return nil
}

// line reads what a person typed, without the blanks at its ends.
func (e *env) line(in *bufio.Reader) (string, error) {
	line, err := in.ReadString('\n')
	if err != nil && (line == "" || !errors.Is(err, io.EOF)) {
		fmt.Fprintln(e.out)
		return "", errInterrupted
	}
	return strings.TrimSpace(line), nil
}

// ask puts one question until it is answered; an empty line takes the default, ? explains.
func (e *env) ask(in *bufio.Reader, q question) error {
	for {
		prompt := q.ask
		if q.words != nil && len(q.words) <= 6 {
			prompt += " (" + strings.Join(q.words, ", ") + ")"
		}
		fmt.Fprintf(e.out, "%s [%s]: ", prompt, q.def)
		line, err := e.line(in)
		if err != nil {
			return err
		}
		if line == "?" {
			fmt.Fprintln(e.out, "  "+q.why)
			continue
		}
		if line == "" {
			line = q.def
		}
		if err := q.answer(line); err != nil {
			fmt.Fprintln(e.out, "  "+err.Error())
			continue
		}
		return nil
	}
}

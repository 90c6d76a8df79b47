package bench_test

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"fliptrue/steps"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// setting is the plan under which something was said: what is asked of it, and in which unit.
type setting struct {
	tag  string // hold-down plan, instrument, unit; as words.golden shows it
	inch bool
}

// said is all that was said, keyed by kind/step/slot: text, with the tags of the settings that said it.
type said struct {
	lines  map[string]map[string]bool
	tags   map[string]map[string]bool // all settings of a kind
	texts  map[string]bool            // every text, numbers as #
	mm     map[string]bool            // texts of inch settings with a unit of the other system
	raw    map[string]int             // sentences with their numbers: 1 said in mm, 2 in inches, 3 in both
	before map[[5]string]bool         // what was put in already, as it was said
}

func newSaid() *said {
	return &said{map[string]map[string]bool{}, map[string]map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]int{}, map[[5]string]bool{}}
}

// say puts in texts of one slot.
func (s *said) say(in setting, kind, step, slot string, texts ...string) {
	for _, text := range texts {
		key := [5]string{in.tag, kind, step, slot, text}
		if strings.TrimSpace(text) == "" || s.before[key] {
			continue
		}
		s.before[key] = true
		if slices.Contains(spokenSlots, slot) {
			s.raw[text] |= map[bool]int{false: 1, true: 2}[in.inch]
		}
		text = numbersOut(text)
		line := kind + "/" + numbersOut(step) + "/" + slot + ": " + text
		if s.lines[line] == nil {
			s.lines[line] = map[string]bool{}
		}
		s.lines[line][in.tag] = true
		if s.tags[kind] == nil {
			s.tags[kind] = map[string]bool{}
		}
		s.tags[kind][in.tag] = true
		s.texts[text] = true
		if in.inch && metric(text) {
			s.mm[text] = true
		}
	}
}

// spokenSlots are those with sentences that a person wrote, not what a page reckons.
var spokenSlots = strings.Fields("act why read caution after hands reached do next ask option otherwise otherwise-do window pause limit rule note")

// metric says that a text has a unit of the other system. Beside a temperature in °C its °F may stand.
func metric(text string) bool {
	for _, both := range []string{"# °C (# °F)", "# MPa (# psi)", "mm typed as inches", "I J K"} {
		text = strings.ReplaceAll(text, both, "")
	}
	return slices.ContainsFunc(words(text), func(w string) bool {
		return slices.Contains(metricWords, w) || strings.HasPrefix(w, "millimet") || strings.HasPrefix(w, "newton")
	})
}

var metricWords = strings.Fields("mm um µm cm mpa gpa kpa n kn nm mnm n·m mn·m °c k kg kgf n/mm2 m/min")

// controlWord is a tool, an offset or a code, and a side.
var controlWord = regexp.MustCompile(`\b[TGHM][0-9.]+|[Ss]ide[ -]?[12]`)

// fixed are the sentences whose numbers are the same in both systems, the numbers as #.
func (s *said) fixed() (out []string) {
	for text, in := range s.raw {
		if in == 3 && strings.ContainsAny(controlWord.ReplaceAllString(text, ""), "0123456789") {
			out = append(out, numbersOut(text))
		}
	}
	return out
}

// reach puts in laid-out text, such as a sheet: it counts as said, and words.golden does not repeat it.
func (s *said) reach(text string) {
	s.texts[numbersOut(text)] = true
	for _, l := range strings.Split(text, "\n") {
		s.texts[numbersOut(l)] = true
	}
}

// golden lists the lines in order. What not every setting of the kind said has those that did behind it, or
// those that did not, where these are fewer.
func (s *said) golden() []string {
	var out []string
	for _, l := range slices.Sorted(maps.Keys(s.lines)) {
		kind, _, _ := strings.Cut(l, "/")
		by, all := s.lines[l], s.tags[kind]
		head := ""
		if 2*len(by) > len(all) {
			head = "but for "
			not := map[string]bool{}
			for tag := range all {
				if !by[tag] {
					not[tag] = true
				}
			}
			by = not
		}
		if len(by) > 0 {
			l += "  {" + head + strings.Join(slices.Sorted(maps.Keys(by)), ", ") + "}"
		}
		out = append(out, l)
	}
	return out
}

// untagged is a line of words.golden without its settings.
func untagged(l string) string {
	if i := strings.LastIndex(l, "  {"); i >= 0 && strings.HasSuffix(l, "}") {
		return l[:i]
	}
	return l
}

// numbersOut writes # for every number, but for that of a side, and one blank for any room.
func numbersOut(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	var b strings.Builder
	for i := 0; i < len(text); {
		c := text[i]
		free := i == 0 || text[i-1] == ' ' || strings.IndexByte("(,XYZ", text[i-1]) >= 0
		if (c == '-' || c == '+') && free && i+1 < len(text) && digit(text[i+1]) {
			i++
			c = text[i]
		}
		if !digit(c) {
			b.WriteByte(c)
			i++
			continue
		}
		end := i + 1
		for end < len(text) && (digit(text[end]) || end+1 < len(text) && strings.IndexByte(".,/", text[end]) >= 0 && digit(text[end+1])) {
			end++
		}
		if n := text[i:end]; (n == "1" || n == "2") && sideBefore(text[:i]) {
			b.WriteString(n)
		} else {
			b.WriteByte('#')
		}
		i = end
	}
	return b.String()
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

func sideBefore(text string) bool {
	t := strings.ToLower(strings.TrimRight(text, " -"))
	return strings.HasSuffix(t, "side")
}

// words are those of a text that have a letter or a number in them, in lower case.
func words(text string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return unicode.IsSpace(r) || r == '(' || r == ')' || r == ',' }) {
		if strings.IndexFunc(w, func(r rune) bool { return unicode.IsLetter(r) || r == '#' }) >= 0 {
			out = append(out, strings.Trim(w, ".:;!?\"'"))
		}
	}
	return out
}

// state puts in what a state shows now, and what its last step showed when it was done.
func (s *said) state(in setting, st *fold.State, also ...fold.StepID) {
	kind := st.Plan().Setup.Kind
	for _, id := range append(also, st.Cursor.Step) {
		if ss, ok := st.Step(id); ok {
			s.step(in, kind, ss)
		}
	}
	s.page(in, kind, string(st.Cursor.Step), st.Page())
	for _, b := range st.Way {
		s.say(in, kind, string(b.Step), "title", b.Title)
	}
	for _, f := range st.Facts {
		s.cause(in, kind, "fact "+string(f.ID.Column()), f.Void)
	}
	s.cause(in, kind, "record", st.TakenBack)
	for _, x := range st.Troubles {
		s.say(in, kind, "record", "trouble", x.What)
		s.say(in, kind, "record", "hint", x.Hint)
	}
	for _, x := range st.Strays {
		s.say(in, kind, "record", "stray", x.What)
	}
	s.say(in, kind, "record", "earlier", st.Earlier())
	s.say(in, kind, "record", "unasked", st.Unasked...)
}

// done puts in all steps of a state, and the budgets at the features.
func (s *said) done(in setting, st *fold.State) {
	s.state(in, st)
	for i := range st.Steps {
		s.step(in, st.Plan().Setup.Kind, &st.Steps[i])
	}
	s.revised(in, st)
	if _, ok := st.Fact("offset"); ok {
		s.budgets(in, st.Plan().Setup.Kind, "register", steps.Register(st))
	}
}

func (s *said) budgets(in setting, kind, step string, fs []kit.FeatureError) {
	for _, f := range fs {
		for _, axis := range f.Lines {
			for _, l := range axis {
				s.say(in, kind, step, "budget", l.Name)
				s.say(in, kind, step, "source", l.Source)
			}
		}
	}
}

func (s *said) cause(in setting, kind, step string, c *fold.Cause) {
	if c != nil {
		s.say(in, kind, step, "cause", c.Words)
	}
}

func (s *said) step(in setting, kind string, ss *fold.StepState) {
	id := string(ss.ID)
	s.say(in, kind, id, "title", ss.Title)
	s.cause(in, kind, id, ss.Cause)
	s.pause(in, kind, id, ss.Pause)
	s.asks(in, kind, id, ss.Asks)
	o := &ss.Outcome
	for _, c := range o.Checks {
		s.say(in, kind, id, "limit", c.Limit.Why)
		s.say(in, kind, id, "check", c.Words)
		s.say(in, kind, id, "largest", c.Largest)
	}
	for _, a := range o.Next {
		s.say(in, kind, id, "next", a.Words)
	}
	s.say(in, kind, id, "learned", o.Learned)
	s.say(in, kind, id, "note", o.Notes...)
	s.rows(in, kind, id, "line", o.Lines)
}

func (s *said) pause(in setting, kind, id string, p *fold.Pause) {
	if p != nil {
		s.say(in, kind, id, "pause", p.Heading, p.Lost)
		s.pause(in, kind, id, p.Again)
	}
}

func (s *said) asks(in setting, kind, id string, asks []fold.Ask) {
	for _, a := range asks {
		s.say(in, kind, id, "ask", a.Label)
		s.say(in, kind, id, "option", a.Options...)
		s.say(in, kind, id, "want", a.Want)
		s.say(in, kind, id, "otherwise", a.WantWhy)
		s.say(in, kind, id, "otherwise-do", a.Hint)
		for _, d := range a.Do {
			s.say(in, kind, id, "do", d.Words)
		}
		if w := a.Window; w != nil {
			s.say(in, kind, id, "window", w.Why, w.Nearer)
		}
	}
}

func (s *said) page(in setting, kind, id string, p fold.Page) {
	s.say(in, kind, id, "act", p.Act)
	s.say(in, kind, id, "why", p.Why)
	s.say(in, kind, id, "read", p.Read)
	s.say(in, kind, id, "caution", p.Caution)
	s.say(in, kind, id, "after", p.After)
	s.say(in, kind, id, "hands", p.Hands)
	s.say(in, kind, id, "reached", p.Reached)
	s.rows(in, kind, id, "row", p.Rows)
	s.rows(in, kind, id, "bar", p.Scene.Bars)
	for _, x := range p.Scene.Shapes {
		s.say(in, kind, id, "shape", x.Name)
	}
	if c := p.Scene.Cut; c != nil {
		s.say(in, kind, id, "section", c.Name)
	}
	if r := p.Scene.Run; r != nil {
		s.say(in, kind, id, "run", strings.TrimSpace(r.TapEnd+" "+r.TapDir))
	}
}

func (s *said) rows(in setting, kind, id, slot string, rows []fold.Row) {
	for _, r := range rows {
		s.say(in, kind, id, slot, r.Label)
		s.say(in, kind, id, slot+"-text", r.Text)
	}
}

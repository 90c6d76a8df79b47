package mutate

import (
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// Card is one key of a job or card changed after the release.
type Card struct {
	Key, Name string // as flattened; Name without the places in lists and the person's own names
	Was, Is   string
	How       string
	State     string // refused (it does not read), same (it means the same), released, taken back
	Anew      string // had it been so from the beginning: released, held, refused
	At        string // step that stands first then
}

// places in a list.
var inList = regexp.MustCompile(`\.[0-9]+(\.|$)`)

// Cards changes every key of the job and its cards after the last event, one at a time. The record
// is first given copies of its cards, as one that was walked at the screen has them.
func Cards(c Case, job *jobs.Job, each func(n int, do func(i int) error) error) (released bool, out []Card, err error) {
	flat := jobs.Flatten(job)
	begun := c.begunWith(c.Events, flat)
	base := c.fold(begun)
	for _, k := range slices.Sorted(maps.Keys(flat)) {
		if strings.HasSuffix(k, ".hash") || strings.Contains(k, "#") || strings.HasSuffix(k, ".format") {
			continue
		}
		for _, v := range values(k, flat[k]) {
			name := inList.ReplaceAllString(inList.ReplaceAllString(k, ".N$1"), ".N$1")
			out = append(out, Card{Key: k, Name: name, Was: flat[k], Is: v[1], How: v[0]})
		}
	}
	err = each(len(out), func(i int) error {
		c.change(&out[i], flat, begun)
		return nil
	})
	return base.Released, out, err
}

// begunWith are the events, the setup begun with copies of those cards, by the walk that it was begun with.
func (c Case) begunWith(events []jobs.Event, flat map[string]string) []jobs.Event {
	out := slices.Clone(events)
	for i, e := range out {
		if e.Begin != c.Setup {
			continue
		}
		b := fold.Begin(c.Setup, flat, e.By)
		b.At = e.At
		if walk, ok := e.Cards["walk"]; ok {
			b.Cards["walk"] = walk
		}
		out[i] = b
	}
	return out
}

// change says what becomes of the record where the key is changed after the last event, and where it is begun with it.
func (c Case) change(r *Card, flat map[string]string, begun []jobs.Event) {
	now := maps.Clone(flat)
	now[r.Key] = r.Is
	file, _, _ := strings.Cut(r.Key, ".")
	now[file+".hash"] = "changed"
	j, fs := jobs.FromFlat(now)
	if len(fs) > 0 {
		r.State, r.Anew = "refused", "refused"
		return
	}
	e, any := jobs.Replan(flat, now)
	if !any {
		r.State = "same"
		return
	}
	files := map[string]fold.ProgramFile{}
	for _, g := range c.Plan.Setup.Programs {
		if f, ok := c.Plan.Program(g.Role); ok {
			files[g.Role] = f
		}
	}
	p, err := steps.NewPlan(j, c.Setup, files)
	if err != nil {
		r.State, r.Anew = "refused", "refused"
		return
	}
	e.At = begun[len(begun)-1].At.Add(time.Minute)
	after := Case{Plan: p, Setup: c.Setup}
	st := after.fold(append(slices.Clone(begun), e))
	if r.State = "taken back"; st.Released {
		r.State = "released"
	} else {
		r.At = string(st.Cursor.Step)
	}
	if st := after.fold(c.begunWith(begun, now)); st.Released {
		r.Anew = "released"
	} else {
		r.Anew = "held"
		r.At = strings.TrimSpace(r.At + " anew " + string(st.Cursor.Step))
	}
}

// values are other values for a key: of a number some near and some far, of a word others.
func values(key, was string) [][2]string {
	var out [][2]string
	add := func(how, v string) {
		if v != was {
			out = append(out, [2]string{how, v})
		}
	}
	if pick, ok := words[lastOf(key)]; ok {
		for _, v := range pick {
			add("word", v)
		}
		return out
	}
	lead := regexp.MustCompile(`^-?[0-9]*\.?[0-9]+`).FindString(was)
	x, err := strconv.ParseFloat(lead, 64)
	if err != nil || lead == "" {
		add("word", was+" x")
		return out
	}
	rest := was[len(lead):]
	f := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	if strings.Contains(rest, "/") && !strings.HasPrefix(rest, "-") { // a slope, a fraction
		add("x1.3", f(1.3*x)+rest)
		add("x5", f(5*x)+rest)
		if x == 0 {
			add("from 0", "0.1"+rest)
		}
		return out
	}
	if _, err := unit.Parse(was, unit.KLength, unit.Metric); err != nil && rest != "" {
		add("other", f(x+1)+rest)
		add("x2", f(2*x)+rest)
		return out
	}
	add("+0.3", f(x+0.3)+rest)
	add("x0.5", f(0.5*x)+rest)
	add("x1.3", f(1.3*x)+rest)
	add("x5", f(5*x)+rest)
	add("+1", f(x+1)+rest)
	if x == 0 {
		add("+5", "5"+rest)
	} else {
		add("sign", f(-x)+rest)
	}
	return out
}

// words are what may stand at keys that take a word, by the last part of the key.
var words = map[string][]string{
	"unit": {"mm", "in"}, "hold-down": {"T", "M", "S"}, "flip": {"x", "y"}, "z0": {"floor", "finished top"},
	"offset": {"G54", "G55", "G59"}, "finds": {"probe", "dial", "edge finder", "pin", "paper"}, "side": {"front", "rear", "left", "right"},
	"kind": {"tapped", "insert", "bore", "pin", "square", "first-side"}, "rotation": {"none", "G68"}, "delivers": {"type-in", "g10", "g92", "readout"},
	"posted": {"turned", "mirrored", "by hand"}, "pace": {"first time", "known job"}, "dialect": {"lenient", "strict"},
	"against": {"left", "right", "away", "toward"}, "material": {"acrylic-cast", "walnut-stabilised", "black-walnut", "aluminium-6061-t6", "hdpe"},
	"thread": {"M2", "M2.5", "M3", "2-56", "4-40"}, "bolt": {"M5", "M6", "M8"}, "floating": {"true", "false"}, "bore2": {"true", "false"},
}

func lastOf(key string) string {
	p := strings.Split(key, ".")
	if len(p) > 1 && p[len(p)-2] == "against" {
		return "against"
	}
	return p[len(p)-1]
}

package report

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"time"

	"fliptrue/calc/reuse"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/report/pen"
)

// Overview is what the records of a folder come to. Lengths in mm.
type Overview struct {
	Folder   string        `json:"folder"`
	Unit     string        `json:"unit"`  // that the page prints lengths in: of the first job
	Parts    []PartLine    `json:"parts"` // by date, the newest last
	Fixtures []FixtureLine `json:"fixtures"`
	Due      []Line        `json:"due"` // job, and what it wants

	sys unit.System
}

// PartLine is one setup of one part.
type PartLine struct {
	Job      string     `json:"job"`
	Part     int        `json:"part"`
	Record   string     `json:"record"`
	Setup    string     `json:"setup"`
	State    string     `json:"state"` // released, held, or why the record cannot be followed
	At       *time.Time `json:"at"`    // of the release, else of the newest event
	Feature  string     `json:"feature"`
	Mismatch *float64   `json:"mismatch"` // known, at the feature that decides; null without a register
	U        *float64   `json:"U"`        // half-width of its 95 % interval
	Limit    *float64   `json:"limit"`
	Waivers  int        `json:"waivers"`
	Mishaps  int        `json:"mishaps"`

	use Use
}

// FixtureLine is one fixture over its uses.
type FixtureLine struct {
	ID     string   `json:"id"`
	Uses   []Use    `json:"uses"`
	Cycles int      `json:"cycles"`
	Retire int      `json:"retire"` // 0: never
	Signs  []string `json:"signs"`  // what its runs show

	bore   float64
	limits map[string]float64
}

// PartOf is what one setup of a record comes to.
func PartOf(st *fold.State, record string, part int) PartLine {
	l := PartLine{Job: st.Plan().Job.Name, Part: part, Record: record, Setup: st.Setup, State: "held", At: when(st.LastAt),
		Waivers: len(st.Waivers)}
	if st.Released {
		l.State, l.At = "released", when(st.ReleasedAt)
	}
	for _, h := range st.Mishaps {
		if h.By == "" {
			l.Mishaps++
		}
	}
	if fs := steps.Register(st); len(fs) > 0 {
		i, a, value, _ := kit.WorstFeature(fs)
		l.Feature = fs[i].Name + " " + axes[a]
		l.Mismatch, l.U, l.Limit = number(value), number(fs[i].U[a]), number(allowed(st.Plan()))
	}
	if st.Released && st.Plan().Setup.Card != "" {
		l.use = UseOf(st)
		l.use.Key = keyOf(record)
	}
	return l
}

// NewOverview is an overview of no part yet.
func NewOverview(folder string) Overview {
	return Overview{Folder: folder, Parts: []PartLine{}, Fixtures: []FixtureLine{}, Due: []Line{},
		Unit: unit.UnitName(unit.KLength, unit.Metric)}
}

// Add puts in a job with its parts, and says what it wants: due is known elsewhere, the ages of calibrations here.
func (o *Overview) Add(j *jobs.Job, parts []PartLine, due []string, now time.Time) {
	if len(o.Parts)+len(o.Fixtures)+len(o.Due) == 0 {
		o.sys, o.Unit = j.Unit, unit.UnitName(unit.KLength, j.Unit)
	}
	o.Parts = append(o.Parts, parts...)
	for _, d := range due {
		o.Due = append(o.Due, Line{j.Name, d})
	}
	if p := j.Machine.Probe; p != nil {
		o.age(j.Name, "probe calibrated", p.Date, now)
	}
	if t := j.Machine.Tram; t != nil {
		o.age(j.Name, "spindle trammed", t.Date, now)
	}
	f := &j.Fixture
	if f.ID == "" {
		return
	}
	line := FixtureLine{ID: f.ID, Uses: []Use{}, Cycles: f.Threads.Cycles, Retire: f.Threads.Retire, Signs: []string{},
		bore:   f.AsMade.Bore.Dia,
		limits: map[string]float64{"mismatch": float64(j.Allowance)}}
	for _, c := range f.History {
		if u := UseFrom(c); u.measured() {
			line.Uses = append(line.Uses, u)
		}
	}
	for _, p := range parts {
		written := slices.ContainsFunc(f.History, func(c jobs.Change) bool { return c.Key == p.use.Key })
		if p.use.measured() && !slices.ContainsFunc(line.Uses, func(u Use) bool { return u.Key == p.use.Key }) {
			line.Uses = append(line.Uses, p.use)
			if !written && f.Threads.Kind != "none" {
				line.Cycles++
			}
		}
	}
	slices.SortStableFunc(line.Uses, func(a, b Use) int { return strings.Compare(a.Date, b.Date) })
	line.look()
	if f.Threads.Retire > 0 {
		line.Signs = append(line.Signs, fmt.Sprintf("threads: %d of %d cycles", line.Cycles, line.Retire))
	}
	o.Fixtures = append(o.Fixtures, line)
}

// age says how old a calibration is.
func (o *Overview) age(job, what, date string, now time.Time) {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return
	}
	days := int(now.Sub(t).Hours() / 24)
	o.Due = append(o.Due, Line{job, fmt.Sprintf("%s %s, %s ago", what, date, plural(max(days, 0), "day"))})
}

// Done puts the parts in order.
func (o *Overview) Done() {
	slices.SortStableFunc(o.Parts, func(a, b PartLine) int {
		at := func(t *time.Time) int64 {
			if t == nil {
				return math.MinInt64
			}
			return t.Unix()
		}
		return cmp.Compare(at(a.At), at(b.At))
	})
}

// useRun is a number that a fixture is followed by.
type useRun struct {
	key, name string
	of        func(Use) *float64
	kind      unit.Kind
}

var useRuns = []useRun{
	{"mismatch", "mismatch", func(u Use) *float64 { return u.Mismatch }, unit.KLength},
	{"skew", "skew, left +", func(u Use) *float64 { return u.Skew }, unit.KSlope},
	{"tilt", "floor tilt", func(u Use) *float64 { return u.Tilt }, unit.KLength},
	{"lift", "lift by drilling", func(u Use) *float64 { return u.Lift }, unit.KLength},
	{"dia", "bore", func(u Use) *float64 { return u.Dia }, unit.KLength},
}

// look says what the runs of a fixture show: by the rules of a fixture that comes back.
func (f *FixtureLine) look() {
	for _, c := range useRuns {
		run := reuse.Run{Limit: f.limits[c.key]}
		zero := 0.0
		if c.key == "dia" {
			run.Limit, zero = reuse.BoreMost, f.bore
		}
		for i, u := range f.Uses {
			if v := c.of(u); v != nil {
				run.Use, run.Rest = append(run.Use, float64(i+1)), append(run.Rest, *v-zero)
			}
		}
		signs, last, err := run.Look()
		if err != nil { // too few to say
			continue
		}
		for _, s := range signs {
			says := map[reuse.Sign]string{reuse.PointOut: "one use stands out of its run", reuse.CreepOut: "it creeps",
				reuse.Forecast: "its limit is near"}[s]
			if s == reuse.Forecast {
				says += fmt.Sprintf(": good up to use %d, then cut it anew", last)
			}
			f.Signs = append(f.Signs, c.name+": "+says)
		}
	}
}

// Text is the overview for a terminal.
func (o Overview) Text() string {
	var b page
	b.line("%s", o.Folder)
	b.heading("parts by date, mismatch ± U 95 % of what is allowed, " + o.Unit)
	num := func(v *float64) string {
		if v == nil {
			return "-"
		}
		return unit.Format(*v, unit.KLength, o.sys, 0)
	}
	for _, p := range o.Parts {
		says := fmt.Sprintf("%-16s %s, part %d, %s: %s", stamp(p.At), p.Job, p.Part, p.Setup, p.State)
		if p.Mismatch != nil {
			says += fmt.Sprintf(", %s ± %s of %s at %s", num(p.Mismatch), num(p.U), num(p.Limit), p.Feature)
		}
		if p.Waivers > 0 {
			says += ", " + plural(p.Waivers, "waiver")
		}
		if p.Mishaps > 0 {
			says += ", " + plural(p.Mishaps, "mishap")
		}
		b.wrapped("", says)
	}
	for _, f := range o.Fixtures {
		b.heading("fixture " + f.ID)
		for i, u := range f.Uses {
			slope := "-"
			if u.Skew != nil {
				slope = unit.Format(*u.Skew, unit.KSlope, o.sys, 0)
			}
			b.line("%3d %-10s skew %s  tilt %s  lift %s  bore %s  mismatch %s", i+1, or(u.Date, u.Key), slope, num(u.Tilt), num(u.Lift), num(u.Dia),
				num(u.Mismatch))
		}
		for _, s := range f.Signs {
			b.wrapped("", s)
		}
	}
	if len(o.Due) > 0 {
		b.heading("due")
		for _, d := range o.Due {
			b.wrapped("", d.What+": "+d.Says)
		}
	}
	return b.String()
}

// overviewPage is an overview as its template writes it.
type overviewPage struct {
	Folder, Unit string
	Parts        []overviewPart
	Fixtures     []overviewFixture
	Due          []entry
}

type overviewPart struct {
	At, Job, Setup, State, Feature, More string
	Bad                                  bool
	Mismatch, U, Limit                   *num
}

type overviewFixture struct {
	ID     string
	Trends []trend
	Signs  []string
}

// HTML writes the overview to be printed; it flows on where one page does not do.
func (o Overview) HTML(w io.Writer) error {
	r := Record{sys: o.sys}
	p := overviewPage{Folder: plain(o.Folder), Unit: o.Unit}
	for i, l := range o.Parts {
		at := fmt.Sprintf("parts.%d.", i)
		row := overviewPart{At: stamp(l.At), Job: plain(l.Job), Setup: fmt.Sprintf("part %d, %s", l.Part, plain(l.Setup)), State: plain(l.State),
			Feature: plain(l.Feature), Bad: l.State != "released"}
		if l.Waivers+l.Mishaps > 0 {
			row.More = plural(l.Waivers, "waiver") + ", " + plural(l.Mishaps, "mishap")
		}
		if l.Mismatch != nil {
			m, u, limit := r.num(at+"mismatch", *l.Mismatch, unit.KLength), r.up(at+"U", *l.U), r.num(at+"limit", *l.Limit, unit.KLength)
			row.Mismatch, row.U, row.Limit = &m, &u, &limit
		}
		p.Parts = append(p.Parts, row)
	}
	for i, f := range o.Fixtures {
		row := overviewFixture{ID: plain(f.ID), Signs: f.Signs}
		for _, c := range useRuns {
			if t, ok := r.trendOf(fmt.Sprintf("fixtures.%d.uses", i), f.Uses, c.key, f.limits[c.key], 150, 14); ok {
				row.Trends = append(row.Trends, t)
			}
		}
		p.Fixtures = append(p.Fixtures, row)
	}
	for _, d := range o.Due {
		p.Due = append(p.Due, entry{plain(d.What), plain(d.Says)})
	}
	return templates().ExecuteTemplate(w, "overview", p)
}

// trendOf is one number over uses; ok is false where the newest did not measure it.
func (r *Record) trendOf(at string, uses []Use, key string, limit, w, h float64) (trend, bool) {
	c := useRuns[slices.IndexFunc(useRuns, func(c useRun) bool { return c.key == key })]
	vs := make([]float64, len(uses))
	last := -1
	for i, u := range uses {
		vs[i] = math.NaN()
		if v := c.of(u); v != nil {
			vs[i], last = *v, i
		}
	}
	if last < 0 || last != len(uses)-1 {
		return trend{}, false
	}
	t := trend{Name: c.name, Unit: unit.UnitName(c.kind, r.sys), Drawing: pen.Trend(vs, limit, w, h)}
	t.Last = r.num(fmt.Sprintf("%s.%d.%s", at, last, key), vs[last], c.kind)
	return t, true
}

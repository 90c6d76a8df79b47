package fold

import (
	"fmt"
	"slices"
	"sync"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// Plan is what a setup asks for: its line of steps, and the off-line steps that
// bring a lost fact back. It is never changed after NewPlan.
type Plan struct {
	Job   *jobs.Job
	Setup *jobs.Setup
	Files *Files // programs beside the job

	Line []*Spec // in walk order
	Off  []*Spec // off the line: calibrations and rechecks

	specs  map[StepID]*Spec
	order  map[StepID]int // place in the walk; an off-line step stands just before the step it is At
	makers map[FactID][]*Spec
	facts  []FactID // all facts that can be made, in order of Columns, then of making

	house  *House
	kind   *Kind
	posted map[string]string // hash of each program as the record knows it, by role

	mu    sync.Mutex
	begun map[string]begun // plans as their records began, by their cards
	once  map[any]any      // see Once
	kin   *kin             // plans of the job's setups, shared by all of them
	as                     // of the record whose plan it is
}

// as is how a record was begun: by which walk, 0 the newest, and at which level.
type as struct {
	walk  int
	level Level
	spare string // fields that are not asked all the same, "step/pattern" each, apart by blanks: see Without
}

// begun is the plan as a record began it, or why there is none.
type begun struct {
	plan *Plan
	err  error
}

// kin are the plans of one job's setups by name, made when they are asked for.
type kin struct {
	mu    sync.Mutex
	plans map[string]*Plan
}

// Plan is the plan of one setup of a job. Programs, by role, may be nil.
// An unknown setup or kind is an error that lists the known.
func (h *House) Plan(j *jobs.Job, setup string, programs map[string]ProgramFile) (*Plan, error) {
	return newPlan(h, j, setup, &Files{byRole: programs}, as{})
}

func newPlan(h *House, j *jobs.Job, setup string, files *Files, a as) (*Plan, error) {
	s, ok := j.Setup(setup)
	if !ok {
		var names []string
		for _, x := range j.Setups {
			names = append(names, x.Name)
		}
		return nil, fmt.Errorf("job %q has no setup %q; it has %v", j.Name, setup, names)
	}
	k, ok := h.Kind(s.Kind)
	if !ok {
		return nil, fmt.Errorf("setup %q: kind %q is not known", setup, s.Kind)
	}
	if k.Reads == nil {
		a.level = Full // of such a kind every walk reads all
	}
	p := &Plan{Job: j, Setup: s, house: h, kind: k, Files: files, as: a,
		specs: map[StepID]*Spec{}, order: map[StepID]int{}, makers: map[FactID][]*Spec{}, begun: map[string]begun{},
		kin: &kin{plans: map[string]*Plan{}}}
	p.Line, p.Off = build(p, k.Line), build(p, k.Off)
	for i, s := range p.Line {
		p.order[s.ID] = 1000 * (i + 1)
		p.specs[s.ID] = s
	}
	for i, s := range p.Off {
		at, ok := p.order[s.before]
		if !ok {
			at = 1000 // before the whole line
		}
		p.order[s.ID] = at - len(p.Off) + i
		p.specs[s.ID] = s
	}
	for _, s := range append(append([]*Spec{}, p.Line...), p.Off...) {
		for _, f := range append(append([]FactID{}, s.Makes...), s.may...) {
			if p.makers[f] == nil {
				p.facts = append(p.facts, f)
			}
			p.makers[f] = append(p.makers[f], s)
		}
	}
	for _, f := range p.Given() {
		if p.makers[f.ID] == nil {
			p.facts = append(p.facts, f.ID)
		}
	}
	for _, f := range p.Handed() {
		if p.makers[f] == nil && !slices.Contains(p.facts, f) {
			p.facts = append(p.facts, f)
		}
	}
	return p, nil
}

// Spec returns the step of that id.
func (p *Plan) Spec(id StepID) (*Spec, bool) { s, ok := p.specs[id]; return s, ok }

// Program returns the NC program of a role as it lies on the disk now.
func (p *Plan) Program(role string) (ProgramFile, bool) {
	return p.Files.of(role)
}

// Watch has the programs read again whenever a step reads them: look gives the one of a role as it lies
// there now, which may be the one it was; false when there is none.
func (p *Plan) Watch(look func(role string, was ProgramFile) (ProgramFile, bool)) {
	p.Files.mu.Lock()
	defer p.Files.mu.Unlock()
	p.Files.look, p.Files.roles = look, map[string]bool{}
	for _, g := range p.Setup.Programs {
		p.Files.roles[g.Role] = true
	}
}

// WithPrograms is the same plan with other programs, by role: as they would be had
// somebody edited them. Roles that are not named keep theirs.
func (p *Plan) WithPrograms(programs map[string]ProgramFile) *Plan {
	all := map[string]ProgramFile{}
	for role, f := range p.Files.byRole {
		all[role] = f
	}
	for role, f := range programs {
		all[role] = f
	}
	q, err := newPlan(p.house, p.Job, p.Setup.Name, &Files{byRole: all}, p.as)
	if err != nil {
		panic("steps: a plan that was made can't be made again: " + err.Error())
	}
	return q
}

// With is the plan of the same setup of another job, walked as this one.
func (p *Plan) With(j *jobs.Job) *Plan {
	q, err := newPlan(p.house, j, p.Setup.Name, p.Files, p.as)
	if err != nil {
		panic("steps: a plan that was made can't be made of a job with other instruments: " + err.Error())
	}
	q.posted, q.kin = p.posted, p.kin
	return q
}

// Posted is the checksum of a role's program as the record knows it, "" when it does not.
func (p *Plan) Posted(role string) string { return p.posted[role] }

// Otherwise is the plan's job under another setup, to be reckoned with: it has no steps.
func (p *Plan) Otherwise(s *jobs.Setup) *Plan {
	k, ok := p.house.Kind(s.Kind)
	if !ok {
		k = p.kind
	}
	return &Plan{Job: p.Job, Setup: s, house: p.house, kind: k, Files: p.Files, as: p.as}
}

// Makers are the steps that make a fact, or may.
func (p *Plan) Makers(f FactID) []*Spec { return p.makers[f] }

// Facts are all facts that can be made, given or handed over.
func (p *Plan) Facts() []FactID { return p.facts }

// System is the unit system that bare numbers are read in.
func (p *Plan) System() unit.System { return p.Job.Unit }

// number reads a typed value in internal units.
func (p *Plan) number(text string, k unit.Kind) (float64, bool) {
	n, err := unit.Parse(text, k, p.Job.Unit)
	if err != nil {
		return 0, false
	}
	return n.Value, true
}

// asBegun is this plan with the job and cards as the record copied them, in the walk that it was begun with; this plan itself
// where it copied none and walks as now. What it copied and can't be read is an error, and the plan is this one.
func (p *Plan) asBegun(s *setupLog) (*Plan, error) {
	copied := s.cards["job.hash"] != ""
	if !copied && s.level == p.level && (s.walk == 0 || s.walk >= Walk || s.walk == p.walk) {
		return p, nil
	}
	if s.key == "" {
		s.key = fmt.Sprint(s.walk, s.level, s.cards) // maps print in key order
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if b, ok := p.begun[s.key]; ok {
		return b.plan, b.err
	}
	b := begun{plan: p}
	j, faults := p.Job, jobs.Faults(nil)
	if copied {
		j, faults = jobs.FromFlat(s.cards)
	}
	if len(faults) > 0 {
		b.err = faults
	} else if r, err := newPlan(p.house, j, p.Setup.Name, p.Files, s.as); err != nil {
		b.err = err
	} else {
		if r.posted = p.posted; copied {
			r.posted = PostedPrograms(s.cards, p.Setup.Name)
		}
		r.kin = p.kin // they take their own cards from the record
		b.plan = r
	}
	p.begun[s.key] = b
	return b.plan, b.err
}

// House is the house that the plan was made in.
func (p *Plan) House() *House { return p.house }

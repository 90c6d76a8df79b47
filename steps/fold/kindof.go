package fold

import "slices"

// With is a kind that walks this one's steps but for those given: one takes the place of the step
// of its id; another stands before the step that its Before names.
func (k *Kind) With(name string, own ...Place) *Kind {
	c := *k
	c.Name, c.Line, c.Off = name, slices.Clone(k.Line), slices.Clone(k.Off)
	for _, at := range own {
		list, is := &c.Line, at.ID
		if slices.ContainsFunc(k.Off, func(o Place) bool { return o.ID == at.ID }) {
			list = &c.Off
		}
		if at.Before != "" {
			is = at.Before
		}
		i := slices.IndexFunc(*list, func(o Place) bool { return o.ID == is })
		if i < 0 {
			panic("steps: kind " + k.Name + " has no step " + string(is))
		}
		if at.Before == "" {
			(*list)[i] = at
			continue
		}
		*list = slices.Insert(*list, i, at)
	}
	return &c
}

// Step is the place of a step of the kind, with what it builds changed by each of the given.
func (k *Kind) Step(id StepID, change ...func(*Plan, *Spec)) Place {
	for _, at := range slices.Concat(k.Line, k.Off) {
		if at.ID != id {
			continue
		}
		build := at.Build
		at.Build = func(p *Plan) *Spec {
			sp := build(p)
			for _, f := range change {
				if sp != nil {
					f(p, sp)
				}
			}
			return sp
		}
		return at
	}
	panic("steps: kind " + k.Name + " has no step " + string(id))
}

// Raw says that the raw stock is clamped in the setup, and no fixture lies under it.
func (p *Plan) Raw() bool { return p.kind != nil && p.kind.Raw }

// Side is what is cut in the setup, and what may be Z0 of its programs, in words.
func (p *Plan) Side() (side string, z0 []string) {
	k := p.lies()
	if k == nil {
		return "", nil
	}
	return k.Side, k.Z0
}

// OnLocator says that the part lies on what the fixture is found by.
func (p *Plan) OnLocator() bool {
	k := p.lies()
	return k != nil && k.OnLocator
}

// Nominal is what the desk takes for facts that only the machine shows.
func (p *Plan) Nominal() []Known {
	if p.kind == nil || p.kind.Nominal == nil {
		return nil
	}
	return p.kind.Nominal(p)
}

// Foreseen is what the desk can judge of the plan's kind alone.
func (p *Plan) Foreseen() []Check {
	if p.kind == nil || p.kind.Foresees == nil {
		return nil
	}
	return p.kind.Foresees(p)

}

package fold

// maxOnce bounds what a plan keeps.
const maxOnce = 64

// Once is what work makes of a plan and a key, kept with the plan. It may depend on nothing else, and
// nobody may change what it gives. A key's type is its owner's own, so that no two owners meet.
func Once[K comparable, V any](p *Plan, key K, work func() V) V {
	p.mu.Lock()
	v, ok := p.once[key].(V)
	p.mu.Unlock()
	if ok {
		return v
	}
	v = work() // without the lock: it may ask for another
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.once == nil || len(p.once) >= maxOnce {
		p.once = map[any]any{}
	}
	p.once[key] = v
	return v
}

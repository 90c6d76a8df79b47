package jobs

import (
	"maps"
	"slices"
	"strings"

	"fliptrue/calc/unit"
)

// Flatten returns every value of a job and its cards as written in their files, by
// its place: job.setups.side2.screws.at.0.1, machine.probe.radius, fixture.alpha.
// Places in a list count from 0; the order of named entries is kept under "#".
// job.hash, machine.hash and fixture.hash are the hashes of the files. What records
// wrote back (history) and where readings arrive from (feed) are left out.
//
// A record copies this with begin, so that it can be replayed after a card changed.
func Flatten(j *Job) map[string]string {
	flat := map[string]string{}
	add := func(prefix string, leaves map[string]string, hash string) {
		if len(leaves) == 0 {
			return
		}
		for path, text := range leaves {
			if top, _, _ := strings.Cut(path, "."); top != "history" && top != "feed" {
				flat[prefix+"."+path] = text
			}
		}
		flat[prefix+".hash"] = hash
	}
	add("job", j.leaves, j.Hash)
	add("machine", j.Machine.leaves, j.Machine.Hash)
	add("fixture", j.Fixture.leaves, j.Fixture.Hash)
	return flat
}

// FromFlat makes a job from the values that Flatten gave, through the same reader as
// the files. Faults have no line. What it gives flattens to the same map.
func FromFlat(flat map[string]string) (*Job, Faults) {
	j := &Job{}
	r, trees := newReader("job values in the record"), trees(flat)
	r.flat = true
	var fs Faults
	if trees["job"] == nil {
		return j, Faults{{File: r.file, What: "there are none", Hint: "the record begins without its job; it cannot be read alone"}}
	}
	r.fill(trees["job"], j)
	j.Hash, j.leaves = flat["job.hash"], r.leaves
	j.reasons()
	r.job(j)
	fs = append(fs, r.faults...)
	r.faults = nil
	if t := trees["machine"]; t != nil {
		m := newReader("machine card values in the record")
		m.flat = true
		m.fill(t, &j.Machine)
		j.Machine.Hash, j.Machine.leaves, j.Machine.Path = flat["machine.hash"], m.leaves, j.Card
		m.machine(&j.Machine)
		fs = append(fs, m.faults...)
	}
	if t := trees["fixture"]; t != nil {
		f := newReader("fixture card values in the record")
		f.flat = true
		f.fill(t, &j.Fixture)
		j.Fixture.Hash, j.Fixture.leaves = flat["fixture.hash"], f.leaves
		for _, s := range j.Setups {
			if s.Card != "" {
				j.Fixture.Path = s.Card
			}
		}
		f.fixture(&j.Fixture)
		j.Notes = append(j.Notes, f.notes...)
		fs = append(fs, f.faults...)
	}
	if len(fs) == 0 {
		r.together(j)
		fs = append(fs, r.faults...)
	}
	return j, fs
}

// Changed lists the keys whose values differ between two flattened jobs, sorted: new,
// gone or written otherwise. A number written another way (0.05, 0.050) is no change;
// hashes and the format are none either.
func Changed(old, new map[string]string) []string {
	var keys []string
	for k, v := range old {
		if w, ok := new[k]; !ok || !sameText(v, w) {
			keys = append(keys, k)
		}
	}
	for k := range new {
		if _, ok := old[k]; !ok {
			keys = append(keys, k)
		}
	}
	// Another unit changes what every bare number of that file says.
	for _, file := range []string{"job", "machine", "fixture"} {
		if old[file+".unit"] != new[file+".unit"] {
			for k := range old {
				if strings.HasPrefix(k, file+".") {
					keys = append(keys, k)
				}
			}
		}
		keys = slices.DeleteFunc(keys, func(k string) bool { return k == file+".hash" || k == file+".format" })
	}
	slices.Sort(keys)
	return slices.Compact(keys)
}

// sameText reports whether two values are the same text, or the same plain number.
func sameText(a, b string) bool {
	if a == b {
		return true
	}
	x, errX := unit.Parse(a, unit.Scalar, unit.Metric)
	y, errY := unit.Parse(b, unit.Scalar, unit.Metric)
	return errX == nil && errY == nil && x.Value == y.Value
}

// Update applies what a plan event says to the values a record began with: Changed
// names the keys, Cards holds their new values; a key without one is gone.
func Update(flat map[string]string, plan Event) map[string]string {
	now := maps.Clone(flat)
	for _, k := range plan.Changed {
		delete(now, k)
	}
	maps.Copy(now, plan.Cards)
	if plan.Plan != "" {
		now["job.hash"] = plan.Plan
	}
	return now
}

// Replan is the event, but for its time, that says how a job and its cards changed since
// the values old: false when nothing changed in meaning. Update turns old into now with it.
func Replan(old, now map[string]string) (Event, bool) {
	e := Event{Plan: now["job.hash"], Changed: Changed(old, now), Cards: map[string]string{}}
	for _, k := range append([]string{"machine.hash", "fixture.hash"}, e.Changed...) {
		if v, ok := now[k]; ok {
			e.Cards[k] = v
		}
	}
	return e, len(e.Changed) > 0
}

// trees builds one YAML tree for each prefix; every level is a mapping.
func trees(flat map[string]string) map[string]*yamlNode {
	roots := map[string]*yamlNode{}
	nodes := map[string]*yamlNode{}
	var at func(path string) *yamlNode
	at = func(path string) *yamlNode {
		if n := nodes[path]; n != nil {
			return n
		}
		n := &yamlNode{Kind: mappingNode, Tag: "!!map"}
		nodes[path] = n
		if i := strings.LastIndexByte(path, '.'); i >= 0 {
			hang(at(path[:i]), path[i+1:], n)
		} else {
			roots[path] = n
		}
		return n
	}
	keys := slices.Collect(maps.Keys(flat))
	slices.SortFunc(keys, byPath)
	for _, k := range keys {
		i := strings.LastIndexByte(k, '.')
		if i < 0 || strings.Count(k, ".") == 1 && strings.HasSuffix(k, ".hash") {
			continue
		}
		// Quoted: the text is a value as it stands, whatever YAML would make of it.
		hang(at(k[:i]), k[i+1:], &yamlNode{Kind: scalarNode, Tag: "!!str", Style: doubleQuoted, Value: flat[k]})
	}
	return roots
}

func hang(parent *yamlNode, part string, child *yamlNode) {
	key := part
	if key != order {
		key = unescape(part)
	}
	parent.Content = append(parent.Content, &yamlNode{Kind: scalarNode, Tag: "!!str", Style: doubleQuoted, Value: key}, child)
}

// byPath compares paths part by part, whole numbers by value: at.2 before at.10. It
// allocates nothing: an opening sorts some hundred paths before the first frame.
func byPath(a, b string) int {
	for {
		x, restA, moreA := strings.Cut(a, ".")
		y, restB, moreB := strings.Cut(b, ".")
		if x != y {
			m, wholeX := whole(x)
			n, wholeY := whole(y)
			if wholeX && wholeY && m != n {
				return m - n
			}
			return strings.Compare(x, y)
		}
		if !moreA || !moreB {
			return len(a) - len(b)
		}
		a, b = restA, restB
	}
}

// whole is a short whole number without a sign.
func whole(s string) (n int, ok bool) {
	if len(s) == 0 || len(s) > 9 {
		return 0, false
	}
	for _, c := range []byte(s) {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = n*10 + int(c-'0')
	}
	return n, true
}

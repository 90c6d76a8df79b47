package main

import (
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/report"
)

// cardBack writes to the cards what the setups of one record have come to, as soon as it
// is in the record. What is written is keyed by the record and the place in it, so that
// writing it again does nothing; what could not be written is owed, and is tried again
// with the next event and when the record is opened again.
type cardBack struct {
	mu     sync.Mutex // a save runs beside the screen
	disk   jobs.Disk
	job    *jobs.Job
	record string       // its path
	log    *fold.Log    // its own: the screen's is in use
	later  []jobs.Event // not applied to it yet
	plans  []*fold.Plan // of the setups begun
	done   map[string]bool
	owed   error // why the newest of it is not written, nil when all is
}

func newCardBack(d jobs.Disk, j *jobs.Job, record string, es []jobs.Event) *cardBack {
	c := &cardBack{disk: d, job: j, record: record, log: steps.NewLog(), later: slices.Clip(es), done: map[string]bool{}}
	// What a card says was written is not owed; were that lost with the power, the card
	// would not say so, and the record would owe it again.
	for path, history := range map[string][]jobs.Change{j.Machine.Path: j.Machine.History, j.Fixture.Path: j.Fixture.History} {
		for _, h := range history {
			c.done[path+"\n"+h.Key] = true
		}
	}
	return c
}

// walks adds setups that the record has begun.
func (c *cardBack) walks(ps ...*fold.Plan) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.plans = append(c.plans, ps...)
}

// saved takes events that are in the record now, and writes what follows from them.
func (c *cardBack) saved(es []jobs.Event) {
	if c == nil {
		return
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	due := c.owed != nil
	for _, ev := range es {
		due = due || c.touched(ev)
	}
	if c.later = append(c.later, es...); due {
		_, c.owed = c.write(c.folded())
	}
}

// standing is what the screen has to say of it until it is mended; nothing in a practice.
func (c *cardBack) standing() []string {
	if c == nil {
		return nil
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.owed == nil {
		return nil
	}
	return []string{notWritten(c.owed)}
}

func (c *cardBack) folded() *fold.Log {
	for _, ev := range c.later {
		c.log.Apply(ev)
	}
	c.later = nil
	return c.log
}

// cardFacts are the facts that may come to stand on the machine card.
var cardFacts = map[fold.FactID]bool{"ball": true, "tram": true, "tram/column": true, "squareness": true}

// touched says that a card may have to be written after the event: most readings concern none.
func (c *cardBack) touched(ev jobs.Event) bool {
	if ev.Mishap != "" || ev.Release != "" || ev.Waive != "" {
		return true
	}
	setup, rest, _ := strings.Cut(ev.Read+ev.Answer, "/")
	step, _, _ := strings.Cut(rest, "/")
	for _, p := range c.plans {
		if sp, ok := p.Spec(fold.StepID(step)); ok && p.Setup.Name == setup {
			for _, f := range slices.Concat(sp.Makes, sp.Remakes()) {
				if cardFacts[f] {
					return true
				}
			}
		}
	}
	return false
}

// settle writes all that is due by a log of the record; wrote says that a card has changed.
func (c *cardBack) settle(log *fold.Log) (wrote bool, err error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	wrote, c.owed = c.write(log)
	return wrote, c.owed
}

func (c *cardBack) write(log *fold.Log) (wrote bool, err error) {
	put := func(path string, w jobs.Writeback) {
		if c.done[path+"\n"+w.Key] {
			return
		}
		if werr := jobs.WriteCard(c.disk, path, w); werr != nil {
			err = werr
			return
		}
		c.done[path+"\n"+w.Key], wrote = true, true
	}
	for _, p := range c.plans {
		st := log.State(p)
		if w, ok := useOf(c.job, p, c.record); ok && st.Released {
			w.Kept = report.UseOf(&st).Found()
			put(c.job.Fixture.Path, w)
		}
		if w, ok, rerr := fold.Revision(st, recordName(c.record), func() (jobs.Fixture, error) {
			f, faults := jobs.ReadFixture(c.disk, c.job.Fixture.Path)
			return f, faults.Err()
		}); rerr != nil {
			err = rerr
		} else if w.Key = recordName(c.record) + w.Key; ok {
			put(c.job.Fixture.Path, w)
		}
		ws := desk.CardChanges(st)
		if len(ws) == 0 || c.job.Machine.Path == "" {
			continue
		}
		path := c.job.Machine.Path
		for _, w := range ws {
			w.Key = recordOn(path, c.record) + w.Key
			if c.done[path+"\n"+w.Key] {
				continue
			}
			m, faults := jobs.ReadMachine(c.disk, path)
			if len(faults) > 0 {
				err = faults
				continue
			}
			if w.Set = current(m, w.Set); len(w.Set) > 0 {
				put(path, w)
			}
		}
	}
	return wrote, err
}

// recordOn names the record on a machine card, which jobs of other folders may share.
func recordOn(card, record string) string {
	name := recordName(record)
	rel, err := filepath.Rel(filepath.Dir(card), filepath.Dir(record))
	if err != nil || rel == "." {
		return name
	}
	return filepath.ToSlash(filepath.Join(rel, name))
}

// current is what is still worth writing: the card may hold something newer than what is
// owed from before another record calibrated. Of one day, what is owed is written.
func current(m jobs.Machine, set map[string]string) map[string]string {
	const day = "2006-01-02"
	on := func(text string) (time.Time, bool) {
		if len(text) < len(day) {
			return time.Time{}, false
		}
		t, err := time.Parse(day, text[:len(day)])
		return t, err == nil
	}
	out := maps.Clone(set)
	drop := func(group, card string) {
		when := set[group+".date"]
		if void := set[group+".void"]; when == "" && len(void) > len(day) {
			when = void[len(void)-len(day):]
		}
		old, ok := on(when)
		if now, has := on(card); ok && has && now.After(old) {
			maps.DeleteFunc(out, func(k, _ string) bool { return strings.HasPrefix(k, group+".") })
		}
	}
	if m.Probe != nil {
		drop("probe", m.Probe.Date)
	}
	if m.Tram != nil {
		drop("tram", m.Tram.Date)
	}
	return out
}

// own leaves out of the changed keys those that this record itself wrote to the cards: its
// readings were not measured against another machine or fixture because of them.
func own(j *jobs.Job, record string, changed []string, now map[string]string) []string {
	wrote := map[string]string{}
	take := func(file, key string, history []jobs.Change) {
		for _, h := range history {
			if h.Key == key || strings.HasPrefix(h.Key, key+"#") {
				for p, v := range h.Values {
					wrote[file+"."+p+"="+v] = key
				}
			}
		}
	}
	take("machine", recordOn(j.Machine.Path, record), j.Machine.History)
	take("fixture", recordName(record), j.Fixture.History)
	return slices.DeleteFunc(changed, func(k string) bool {
		_, ok := wrote[k+"="+now[k]]
		return ok || k == "fixture.found.#" || k == "fixture.seen.#" // the order of what was found says nothing: each has its time
	})
}

// notWritten says that a card lacks what the record holds.
func notWritten(err error) string {
	f := faultsOf(err)[0]
	if strings.Contains(f.What, f.File) {
		f.File = "" // once is enough
	}
	return "NOT ON THE CARD YET, in the record all the same: " + f.Error() +
		". It is tried again with what you take next, and when you open this again"
}

// recordName is a record's file name without what all records end in.
func recordName(record string) string {
	return strings.TrimSuffix(filepath.Base(record), ".record.yaml")
}

// useOf counts a released setup on its fixture card: one use, one thread cycle.
func useOf(j *jobs.Job, p *fold.Plan, record string) (jobs.Writeback, bool) {
	if j.Fixture.Path == "" || !p.Setup.Second() { // made, or looked at: no part was cut on it
		return jobs.Writeback{}, false
	}
	w := jobs.Writeback{Key: recordName(record), Add: map[string]int{"uses": 1}}
	if j.Fixture.Threads.Kind != "none" {
		w.Add["threads.cycles"] = 1
	}
	return w, true
}

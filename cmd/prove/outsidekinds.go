package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"fliptrue/steps/prove/outside"
)

// judged is one record of a setup before or behind the cut, by the second simulator, as the built program judged it.
type judged struct {
	later   *outside.Later
	state   string
	held    []outside.Held  // where features lie, of a released record
	sided   []outside.Sided // what steps state that passed
	offered int             // numbers, lines and card entries that are to be acted by
	wrong   []string        // of them
}

// judgeLater walks one and asks the built program.
func judgeLater(ctx context.Context, binary, dir, kind, mistake string, seed uint64) (judged, error) {
	k, err := outside.WalkLater(kind, mistake, seed)
	if err != nil {
		return judged{}, err
	}
	if err := os.Mkdir(dir, 0o777); err != nil {
		return judged{}, err
	}
	said, err := k.Ask(ctx, binary, dir)
	if err != nil {
		return judged{}, err
	}
	j := judged{later: k, state: said.State}
	if (said.State == "released") != (k.Ended == "released") {
		return j, fmt.Errorf("%s, seed %d: walked to %q, and replayed as %q", kind, seed, k.Ended, said.State)
	}
	if j.sided, err = outside.CompareFound(said, k.Claims); err != nil {
		return j, fmt.Errorf("%s, seed %d: %w", kind, seed, err)
	}
	if said.State == "released" {
		if j.held, err = outside.Compare(said, k.Truths); err != nil {
			return j, fmt.Errorf("%s, seed %d: %w", kind, seed, err)
		}
	}
	for _, a := range k.Advice {
		for _, o := range a.Offered(said) {
			if j.offered++; !a.Good(o) {
				j.wrong = append(j.wrong, fmt.Sprintf("%s: %+.4f is offered, %+.4f is right", a.What, o, a.Right))
			}
		}
	}
	if k.Faulty != nil && said.State == "released" {
		j.offered++
		j.wrong = append(j.wrong, k.Faulty(said)...)
	}
	return j, nil
}

// untrue says that somebody who goes by the record goes wrong: a number is off by more than twice its guard, which chance
// does once in a thousand, a feature lies outside its interval, or an offer is wrong.
func (j judged) untrue() bool {
	for _, s := range j.sided {
		off := s.True - s.Stated
		if off > 2*s.Guard || off < -2*s.Guard && !s.Most {
			return true
		}
	}
	return len(j.wrong) > 0 || slices.ContainsFunc(j.held, func(h outside.Held) bool { return !h.Inside })
}

// claim counts how often one thing that is stated holds: of one-sided claims each side counts.
type claim struct {
	what  string
	n, in int
}

func (c claim) share() float64 { return 100 * float64(c.in) / float64(max(c.n, 1)) }

// truths sums what records of one kind state.
func truths(js []judged) (all claim, each []claim) {
	add := func(what string, n, in int) {
		i := slices.IndexFunc(each, func(c claim) bool { return c.what == what })
		if i < 0 {
			i, each = len(each), append(each, claim{what: what})
		}
		each[i].n, each[i].in = each[i].n+n, each[i].in+in
		all.n, all.in = all.n+n, all.in+in
	}
	yes := map[bool]int{true: 1}
	for _, j := range js {
		for _, h := range j.held {
			add("a feature along "+strings.ToUpper(h.Axis), 1, yes[h.Inside])
		}
		for _, s := range j.sided {
			what := s.Step + ": " + s.What
			if of := j.later.Split[s.What]; of != "" {
				what += ", " + of
			}
			if at, _, ok := strings.Cut(s.What, " along "); ok && s.Step == "holes" {
				what = "holes: " + strings.Replace(s.What, at, "the hole", 1)
			}
			if s.Most {
				add(what, 1, yes[s.Over])
			} else {
				add(what, 2, yes[s.Over]+yes[s.Under])
			}
		}
	}
	return all, each
}

// laterCell is one row: records of a kind with a mistake.
type laterCell struct {
	kind string
	m    outside.Mistake
	n    int
}

// laterCells are n sound records of each kind asked for, and a tenth with each mistake.
func laterCells(o options) ([]laterCell, error) {
	var cells []laterCell
	for _, kind := range outside.LaterKinds {
		if o.only == kind || o.only == "" {
			cells = append(cells, laterCell{kind, outside.Mistake{}, o.n})
		}
		for _, m := range outside.Mistakes {
			if m.Kind == kind && (o.only == "" || o.only == kind || o.only == m.Name) {
				cells = append(cells, laterCell{kind, m, (o.n + 9) / 10})
			}
		}
	}
	if len(cells) == 0 {
		return nil, fmt.Errorf("--only %q: give one of %v, or a mistake of theirs", o.only, outside.LaterKinds)
	}
	if o.n == 1 {
		cells = cells[:1]
	}
	return cells, nil
}

// kindsColumns says what the columns are.
const kindsColumns = `
n: records, each of a world of its own; in brackets what has to come of a mistake: seen and mended; lasts, seen and the walk ends there;
harmless, what is stated stays true; unseen, no reading shows it, or not always
stopped: something did not pass that a sound record passes; it is then done over rightly
released: with what was done over; untrue: of these a number is off by more than twice its guard, a feature lies outside its
interval, or an offer is wrong
claims: what steps state that passed; each number twice, for a guard is one-sided: not above value and guard, not below value less guard
hold: how many are true; 94 % are asked of each claim of sound records, less three standard deviations of so many records
offers: to be acted by: a radius to enter, a height, what may have made it grow, what goes onto the fixture's card, the line to begin at
right: with the right sign and size; a line behind which the control stands as in a run from the top, and nothing is left uncut
`

func outsideKinds(ctx context.Context, o options) (*table, error) {
	cells, err := laterCells(o)
	if err != nil {
		return nil, err
	}
	all, err := judgeCells(ctx, o, cells)
	if err != nil {
		return nil, err
	}
	t := &table{Title: "what is found of a finished part, a fixture that comes back, a part that let go and a fixture being made, in the " +
		"simulator that shares no code with the product",
		Head: []string{"kind", "mistake or claim", "n", "stopped %", "released %", "untrue %", "claims", "hold %", "offers", "right %"}}
	if o.n == 1 {
		tellLater(t, all[0][0])
		return t, nil
	}
	for i, c := range cells {
		t.laterRow(o, c, all[i])
	}
	t.Notes = strings.Split(strings.TrimSpace(kindsColumns), "\n")
	for _, c := range cells {
		if c.m.Name != "" {
			t.Notes = append(t.Notes, c.kind+" "+c.m.Name+": "+c.m.Meaning)
		}
	}
	return t, nil
}

// judgeCells judges the records of all rows.
func judgeCells(ctx context.Context, o options, cells []laterCell) ([][]judged, error) {
	dir, done, err := o.workplace(ctx, "later-")
	if err != nil {
		return nil, err
	}
	defer done()
	all, places := make([][]judged, len(cells)), [][2]int{}
	for i, c := range cells {
		all[i] = make([]judged, c.n)
		for k := range c.n {
			places = append(places, [2]int{i, k})
		}
	}
	return all, each(ctx, o, "outside-kinds", len(places), func(i int) (err error) {
		c, k, at := cells[places[i][0]], places[i][1], filepath.Join(dir, strconv.Itoa(i))
		defer os.RemoveAll(at)
		all[places[i][0]][k], err = judgeLater(ctx, o.binary, at, c.kind, c.m.Name, o.seed+uint64(k))
		return err
	})
}

// laterRow is the row of a cell; of sound records each claim has one too.
func (t *table) laterRow(o options, c laterCell, js []judged) {
	stopped, released, offered, wrong, untrue, unseen := 0, 0, 0, 0, 0, 0
	must := c.m.Comes == outside.Seen || c.m.Comes == outside.Lasts
	name := c.kind
	if c.m.Name != "" {
		name += " " + c.m.Name
	}
	for i, j := range js {
		seed := o.seed + uint64(i)
		if len(j.later.Seen) > 0 {
			stopped++
		}
		if j.state == "released" {
			released++
		}
		offered += j.offered
		wrong += min(len(j.wrong), j.offered)
		for _, w := range j.wrong {
			if c.m.Comes != outside.Unseen {
				t.Failures = append(t.Failures, fault{seed, name, w})
			}
		}
		if j.state == "released" && j.untrue() {
			if untrue++; len(j.later.Seen) == 0 && must {
				unseen++
				t.Failures = append(t.Failures, fault{seed, name, "not seen"})
			}
		}
	}
	n := len(js)
	t.Cases += n
	share := func(k, n int) float64 { return 100 * float64(k) / float64(max(n, 1)) }
	sum, each := truths(js)
	what := "sound"
	if c.m.Name != "" {
		what = fmt.Sprintf("%s (%s)", c.m.Name, c.m.Comes)
	}
	t.row(c.kind, what, n, share(stopped, n), share(released, n), share(untrue, n), sum.n, sum.share(), offered, share(offered-wrong, offered))
	if share(unseen, n) > 10 {
		t.miss("%s: %d of %d records are released, untrue, and nothing was seen", name, unseen, n)
	}
	if c.m.Comes != outside.Unseen && share(wrong, offered) > 10 {
		t.miss("%s: %d of %d offers are wrong", name, wrong, offered)
	}
	if c.m.Name != "" {
		return
	}
	for _, e := range each {
		t.row("", "  "+e.what, "", "", "", "", e.n, e.share(), "", "")
		if e.share() < least-doubt(n) {
			t.miss("%s, %s: %.1f %% hold, %d ± %.1f were asked", name, e.what, e.share(), least, doubt(n))
		}
	}
}

// tellLater tells one record in full.
func tellLater(t *table, j judged) {
	t.Head, t.Cases = []string{"step", "states", "value", "guard", "true", "not above", "not below"}, 1
	for _, h := range j.held {
		over, under := h.True <= h.Stated+h.U, h.True >= h.Stated-h.U
		t.row("offset", h.Feature+" "+h.Axis+", two-sided", h.Stated, h.U, h.True, fmt.Sprint(over), fmt.Sprint(under))
	}
	for _, s := range j.sided {
		t.row(s.Step, s.What, s.Stated, s.Guard, s.True, fmt.Sprint(s.Over), fmt.Sprint(s.Under))
	}
	k := j.later
	t.Notes = append(t.Notes, fmt.Sprintf("%s, seed %d: %v, %d events, %s", k.Kind, k.Seed, k.Shop.Kind, len(k.Events), k.Ended))
	t.Notes = append(append(t.Notes, k.Tale...), k.Said...)
	for _, w := range j.wrong {
		t.Notes = append(t.Notes, "wrong: "+w)
	}
}

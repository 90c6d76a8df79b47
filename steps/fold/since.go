package fold

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"fliptrue/jobs"
)

// What is asked grows from version to version. A record goes on with the questions that it
// was begun with: a round that was finished is not unfinished by a question of later, and a
// part that is clamped does not come out for it. The begin of a setup says the number of its
// walk; a begin without one is of the first.

// Walk is the number of the walk as it is now. It is raised together with the first new
// required field after a release of this program.
const Walk = 4

// walkCard is where a begin says it, among the cards.
const walkCard = "walk"

// Since says from which walk on a field is asked, and names what it is about; zero is always.
type Since struct {
	Walk int
	What string // of several fields one name serves
}

// Begin is the event that begins a setup by the walk as it is now. The cards are what the
// record is to carry of job and cards, nil for none.
func Begin(setup string, cards map[string]string, by string) jobs.Event {
	all := map[string]string{}
	maps.Copy(all, cards)
	all[walkCard] = strconv.Itoa(Walk)
	return jobs.Event{Begin: setup, Cards: all, By: by}
}

// walkOf is the walk that a begin speaks of; what is no number is the first.
func walkOf(cards map[string]string) int {
	n, err := strconv.Atoi(strings.TrimSpace(cards[walkCard]))
	if err != nil || n < 1 {
		return 1
	}
	return n
}

// Walks says that the record walks at least the walk of that number: what is judged anew since
// then holds there. A view outside any record walks the newest.
func (v View) Walks(n int) bool { return v.walk == 0 || v.walk >= n }

// AtWalk is a view made by hand in a record of that walk.
func (v View) AtWalk(n int) View {
	v.walk = n
	return v
}

// Walks says the same of a State; one of no record walks the newest.
func (st *State) Walks(n int) bool { return st.walk == 0 || st.walk >= n }

// Walks says the same of a plan: that of a record (State.Plan, or what a step is built with) walks as its record was begun.
func (p *Plan) Walks(n int) bool { return p.walk == 0 || p.walk >= n }

// later says that a field is of a later walk than the record, and was not given all the same.
func (v View) later(a Ask) bool { return v.walk > 0 && a.Since.Walk > v.walk && !v.Has(a.Field) }

// unasked names what the setup's steps would ask today and its record does not, in order of the walk.
func (x *resolver) unasked() []string {
	if x.s.walk == 0 || x.s.walk >= Walk {
		return nil
	}
	var out []string
	for _, sp := range x.p.Line {
		var res *result
		if rs := x.s.rounds[sp.ID]; len(rs) > 0 {
			res = x.judge(rs[len(rs)-1])
		} else {
			res = x.unopened(sp)
		}
		for _, what := range res.later {
			if !slices.Contains(out, what) {
				out = append(out, what)
			}
		}
	}
	return out
}

// Earlier says what a record of an earlier version was not asked, and what it does not take back that
// today's would; and of one of a later version that this one may miss something. "" when there is nothing to say.
func (st *State) Earlier() string {
	var said []string
	if st.Walk > Walk {
		said = append(said, fmt.Sprintf("begun by a later version (walk %d; this one knows %d). It may ask for more and judge otherwise: go on "+
			"with that version", st.Walk, Walk))
	}
	if len(st.Unasked) > 0 {
		said = append(said, "begun by an earlier version, which did not ask for: "+strings.Join(st.Unasked, ", "))
	}
	if len(st.Spared) > 0 {
		said = append(said, "today's table would also take back what was hit by: "+strings.Join(st.Spared, "; "))
	}
	return strings.Join(said, ". ")
}

package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps/report"

	"github.com/spf13/cobra"
)

type correctionsOptions struct {
	card    string
	back    bool
	because string
	asJSON  bool
}

func correctionsCommand(r *runner) *cobra.Command {
	var o correctionsOptions
	c := &cobra.Command{
		Use: "corrections CARD|JOB", Short: "What inspections corrected on a fixture's card, why, and take the newest back",
		Long: "Lists what inspections took out of a fixture's card, with the reason and what stood there before, and charts\nwhat they " +
			"found of each part. With\n--take-back the newest " +
			"is taken back: the card has its values from before, and the parts made by the\ncorrected card count no more for the next.",
		Args: argsNamed("CARD|JOB"),
		RunE: func(_ *cobra.Command, args []string) error {
			o.card = args[0]
			return r.do(corrections(r.env, o))
		},
	}
	c.Flags().BoolVar(&o.back, "take-back", false, "take the newest correction back")
	c.Flags().StringVar(&o.because, "because", "", "with --take-back: why; it stands on the card")
	c.Flags().BoolVar(&o.asJSON, "json", false, "print JSON")
	return c
}

// correction is one revision of a card: values as they stand in the file.
type correction struct {
	Key    string            `json:"key"`    // under history
	Record string            `json:"record"` // of the part that was inspected
	At     string            `json:"at"`
	Reason string            `json:"reason"`
	Was    map[string]string `json:"was"` // by key under as-made
	Is     map[string]string `json:"is"`
	Back   string            `json:"taken_back"` // when, "" while it stands
	Why    string            `json:"why"`        // it was taken back
}

// backEnd ends the key under which a correction was taken back.
const backEnd = "-back"

// correctionsOn are those of a card, oldest first.
func correctionsOn(f *jobs.Fixture) (out []correction) {
	for _, h := range f.History {
		if h.Values["reason"] == "" || strings.HasSuffix(h.Key, backEnd) || !tookFromCard(h) {
			continue
		}
		c := correction{Key: h.Key, Reason: h.Values["reason"], Was: map[string]string{}, Is: map[string]string{}}
		c.Record, _, _ = strings.Cut(h.Key, "#")
		for key, v := range h.Values {
			if k, ok := strings.CutPrefix(key, "was "); ok {
				c.Was[k], c.Is[k] = v, h.Values["as-made."+k]
			}
		}
		if len(c.Was) == 0 {
			continue
		}
		for _, r := range f.Found {
			if r.Record == c.Record {
				c.At, c.Back = r.At, r.Back
			}
		}
		for _, b := range f.History {
			if b.Key == c.Key+backEnd {
				c.Why = b.Values["reason"]
			}
		}
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(a, b correction) int { return strings.Compare(a.At, b.At) })
	return out
}

// tookFromCard says that an inspection wrote that: the making of a fixture is no correction of it.
func tookFromCard(h jobs.Change) bool {
	for key := range h.Values {
		if strings.HasPrefix(key, "found.") && strings.Contains(key, ".took.") {
			return true
		}
	}
	return false
}

func corrections(e *env, o correctionsOptions) (exit, error) {
	if strings.HasSuffix(o.card, ".job.yaml") { // its fixture is meant
		j, err := e.readJob(o.card)
		if err != nil {
			return exitOf(err), err
		}
		if o.card = j.Fixture.Path; o.card == "" {
			return exitInput, &inputError{j.Path, "the job has no fixture card", "name the card itself"}
		}
	}
	f, faults := jobs.ReadFixture(e.disk, o.card)
	if len(faults) > 0 {
		return exitInput, faults
	}
	cs := correctionsOn(&f)
	if o.back {
		if strings.TrimSpace(o.because) == "" {
			return exitUsage, &usageError{"a correction is taken back with a reason", "say why with --because; it stands on the card"}
		}
		if err := e.takeBack(o, &f, cs); err != nil {
			return exitOf(err), err
		}
		if f, faults = jobs.ReadFixture(e.disk, o.card); len(faults) > 0 {
			return exitInput, faults
		}
		cs = correctionsOn(&f)
	}
	if o.asJSON {
		if cs == nil {
			cs = []correction{}
		}
		e.json(map[string]any{"card": f.ID, "corrections": cs})
		return exitOK, nil
	}
	var b strings.Builder
	fmt.Fprintf(&b, "fixture %s: %s\n", f.ID, counted(len(cs), "correction"))
	for _, c := range cs {
		fmt.Fprintf(&b, "\n%s, part of record %s\n", c.At, c.Record)
		hung(&b, "  ", "why: "+c.Reason)
		for _, k := range slices.Sorted(maps.Keys(c.Was)) {
			fmt.Fprintf(&b, "  %s: %s, before %s\n", k, c.Is[k], c.Was[k])
		}
		if c.Back != "" {
			hung(&b, "  ", "TAKEN BACK "+c.Back+": "+c.Why)
		}
	}
	if lines := report.FixtureChart(&f, f.Unit); len(lines) > 0 {
		b.WriteString("\n" + strings.Join(lines, "\n") + "\n")
	}
	fmt.Fprint(e.out, b.String())
	return exitOK, nil
}

// takeBack puts the values before the newest correction that stands back, where nobody has changed them since.
func (e *env) takeBack(o correctionsOptions, f *jobs.Fixture, cs []correction) error {
	i := len(cs) - 1
	for ; i >= 0 && cs[i].Back != ""; i-- {
	}
	if i < 0 {
		return &inputError{o.card, "no correction stands on this card", "there is nothing to take back"}
	}
	c := cs[i]
	now := jobs.Flatten(&jobs.Job{Fixture: *f})
	w := jobs.Writeback{Key: c.Key + backEnd, Set: map[string]string{jobs.Path("found", c.Record, "back"): e.now().UTC().Format(time.RFC3339)},
		Kept: map[string]string{"reason": o.because}}
	for k, was := range c.Was {
		if at := now["fixture.as-made."+k]; at != c.Is[k] {
			return &inputError{o.card, fmt.Sprintf("as-made.%s is %s; the correction had made it %s", k, at, c.Is[k]),
				"it was changed since: edit the card by hand, and say why in a comment"}
		}
		w.Set["as-made."+k], w.Kept["was "+k] = was, c.Is[k]
	}
	return jobs.WriteCard(e.disk, o.card, w)
}

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"reflect"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// walkRecord is the record of a whole walk as it lies on a disk: its lines, its events, and what
// they mean for the plan after each of them.
func walkRecord(seed uint64) (*fold.Plan, []jobs.Event, []byte, error) {
	p, cards, err := options{}.shopJob(seed)
	if err != nil {
		return nil, nil, nil, err
	}
	res, err := bench.Auto(p, bench.Options{Seed: seed, Cards: cards})
	if err != nil {
		return nil, nil, nil, err
	}
	d := jobs.Mem(nil)
	r, _, _, err := jobs.OpenRecord(d, recordFile, "prove")
	if err != nil {
		return nil, nil, nil, err
	}
	defer r.Close()
	if err := r.Append(res.Walk.Events...); err != nil {
		return nil, nil, nil, err
	}
	return p, res.Walk.Events, []byte(d.Text(recordFile)), nil
}

// meaning is what a state says to a person, comparable.
func meaning(st fold.State) string {
	b, err := json.Marshal(struct {
		Facts    []fold.Known
		Cursor   fold.Cursor
		Left     []fold.StepID
		Released bool
		Troubles []fold.Trouble
	}{st.Facts, st.Cursor, st.Left, st.Released, st.Troubles})
	if err != nil {
		return err.Error()
	}
	return string(b)
}

// cutAt opens the record cut off after so many bytes, with the power gone, and compares.
func cutAt(p *fold.Plan, whole []byte, events []jobs.Event, states []string, n int) error {
	d := jobs.Mem(map[string]string{recordFile: string(whole[:n])})
	r, es, rep, err := jobs.OpenRecord(d, recordFile, "prove")
	if err != nil {
		return fmt.Errorf("it does not open: %w", err)
	}
	defer r.Close()
	lines := max(bytes.Count(whole[:n], []byte("\n"))-1, 0) // the first line is no event
	if len(es) != lines || lines > 0 && !reflect.DeepEqual(es, events[:lines]) {
		return fmt.Errorf("%d events of %d whole lines", len(es), lines)
	}
	torn := whole[bytes.LastIndexByte(whole[:n], '\n')+1 : n]
	if rep.Torn != len(torn) {
		return fmt.Errorf("%d bytes are called torn, %d are", rep.Torn, len(torn))
	}
	if rep.Moved != "" && d.Text(rep.Moved) != string(torn) {
		return fmt.Errorf("the torn bytes are not kept in %s", rep.Moved)
	}
	if got := meaning(fold.Fold(p, es)); got != states[lines] {
		return fmt.Errorf("after %d events it means something else", lines)
	}
	// and it goes on from there, whatever was torn
	if lines < len(events) {
		if err := r.Append(events[lines:]...); err != nil {
			return fmt.Errorf("it does not go on: %w", err)
		}
		if !bytes.Equal([]byte(d.Text(recordFile)), whole) {
			return fmt.Errorf("gone on, it is not the record of the whole walk")
		}
	}
	return nil
}

// tellCut cuts one record at a byte that the seed gives, and tells what it still says.
func (o options) tellCut() error {
	p, events, whole, err := walkRecord(o.seed)
	if err != nil {
		return err
	}
	n := rand.New(rand.NewPCG(o.seed, 0xc07)).IntN(len(whole) + 1)
	line := bytes.LastIndexByte(whole[:n], '\n') + 1
	fmt.Fprintf(o.stdout, "seed %d, plan %s: a record of %d events, %d bytes, cut at byte %d, behind: %s\n", o.seed, p.Setup.HoldDown,
		len(events), len(whole), n, whole[line:n])
	if err := cutAt(p, whole, events, meanings(p, events), n); err != nil {
		fmt.Fprintf(o.stdout, "wrong: %v\n", err)
		return nil
	}
	kept := max(bytes.Count(whole[:n], []byte("\n"))-1, 0)
	fmt.Fprintf(o.stdout, "it opens with %d events, the %d bytes behind them set aside, and means what it meant when they were written;\n"+
		"with the other %d events behind it, it is the record of the whole walk\n", kept, n-line, len(events)-kept)
	return nil
}

// meanings are what the walk meant before its first event and after each.
func meanings(p *fold.Plan, events []jobs.Event) []string {
	l := steps.NewLog()
	out := []string{meaning(l.State(p))}
	for _, e := range events {
		l.Apply(e)
		out = append(out, meaning(l.State(p)))
	}
	return out
}

// cuts takes the record of a real walk and cuts it at every byte.
func cuts(ctx context.Context, o options) (*table, error) {
	t := &table{Title: "the record of a whole walk cut off at every byte, opened, understood, and gone on with",
		Head: []string{"plan", "events", "bytes", "cuts", "lost", "invented or otherwise wrong"}}
	if o.verbose {
		return &table{}, o.tellCut()
	}
	for k := range 3 {
		seed := o.seed + uint64(k)
		p, events, whole, err := walkRecord(seed)
		if err != nil {
			return nil, err
		}
		states := meanings(p, events)
		step := max(o.stride, 1)
		if o.n > 0 {
			step = max(1, 3*len(whole)/o.n)
		}
		wrong := make([]error, len(whole)/step+1)
		err = each(ctx, o, "cuts", len(wrong), func(i int) error {
			wrong[i] = cutAt(p, whole, events, states, i*step)
			return nil
		})
		if err != nil {
			return nil, err
		}
		lost, other := 0, 0
		for i, e := range wrong {
			if e == nil {
				continue
			}
			if strings.Contains(e.Error(), "whole lines") {
				lost++
			} else {
				other++
			}
			t.Failures = append(t.Failures, fault{seed, fmt.Sprintf("byte %d", i*step), e.Error()})
		}
		t.row(p.Setup.HoldDown, len(events), len(whole), len(wrong), lost, other)
		t.Cases += len(wrong)
		if lost+other > 0 {
			t.miss("seed %d: %d cuts go wrong", seed, lost+other)
		}
	}
	t.Notes = append(t.Notes, "the state is compared with that of the same events never written: facts with their covariances, where the "+
		"person is, what is left")
	return t, nil
}

package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
	"fliptrue/steps/prove"
	"fliptrue/steps/prove/mutate"
	"fliptrue/steps/prove/outside"

	"github.com/spf13/cobra"
)

// mutated are the records whose every reading and card key is changed, with their jobs.
var mutated = [][2]string{{"testdata/lid/lid.job.yaml", "testdata/lid/lid.1.record.yaml"},
	{"testdata/lid/lid.job.yaml", "testdata/lid/lid.2.record.yaml"}, {"testdata/tray/tray.job.yaml", "testdata/tray/tray.1.record.yaml"}}

func mutateCommand(stdout, stderr io.Writer, workers int) *cobra.Command {
	o := options{stdout: stdout, stderr: stderr, workers: workers}
	c := &cobra.Command{
		Use: "mutate [JOB RECORD]", Short: "Change each reading and each card key of a record alone, and look what is still released",
		Long: `Changes every reading and answer of a record alone, by 0.01, 0.05, 0.3 and 1 mm, in sign, by two
figures exchanged, or to another answer, and walks on as the screen then says; and every key of job,
machine and fixture card after the release. Prints what is still released, what harm that does, and why.
Without a name the records of testdata/lid and testdata/tray are taken, from the root of the project,
and one of plan S from the second simulator.`,
		Args: cobra.MaximumNArgs(2),
		RunE: func(c *cobra.Command, args []string) error {
			took := mutated
			if len(args) == 2 {
				took = [][2]string{{args[0], args[1]}}
			} else if len(args) == 1 {
				return fmt.Errorf("mutate %s: give a job and a record, or neither", args[0])
			}
			for _, m := range took {
				cs, j, err := readCase(m[0], m[1])
				if err != nil {
					return err
				}
				if err := o.mutate(c.Context(), cs, j); err != nil {
					return err
				}
			}
			if len(args) > 0 {
				return nil
			}
			k, err := outside.Walk(1, "S", outside.Usual())
			if err != nil {
				return err
			}
			p := k.State.Plan()
			return o.mutate(c.Context(), mutate.Case{Name: "S", Plan: p, Setup: p.Setup.Name, Events: k.Events}, p.Job)
		},
	}
	f := c.Flags()
	f.StringVar(&o.out, "out", "", "folder to write the tables to, as text and JSON")
	f.BoolVar(&o.asJSON, "json", false, "print JSON")
	f.IntVar(&o.workers, "workers", o.workers, "how many cases at a time")
	return c
}

// readCase is a record with the job and the programs that lie beside it.
func readCase(job, record string) (mutate.Case, *jobs.Job, error) {
	j, fs := jobs.ReadJob(jobs.OS(), job)
	if len(fs) > 0 {
		return mutate.Case{}, nil, fs
	}
	es, _, fs := jobs.ReadRecord(jobs.OS(), record)
	if len(fs) > 0 {
		return mutate.Case{}, nil, fs
	}
	c := mutate.Case{Name: strings.TrimSuffix(filepath.Base(record), ".record.yaml"), Events: es}
	for _, e := range es {
		if e.Begin != "" {
			c.Setup = e.Begin
		}
	}
	s, ok := j.Setup(c.Setup)
	if !ok {
		return c, nil, fmt.Errorf("%s: setup %q is not in %s", record, c.Setup, job)
	}
	programs := map[string]fold.ProgramFile{}
	for _, g := range s.Programs {
		if data, err := os.ReadFile(filepath.Join(filepath.Dir(job), g.File)); err == nil {
			programs[g.Role] = prove.Program(g.File, data)
		}
	}
	var err error
	c.Plan, err = steps.NewPlan(j, c.Setup, programs)
	return c, j, err
}

func (o options) mutate(ctx context.Context, c mutate.Case, j *jobs.Job) error {
	spread := func(what string) func(int, func(int) error) error {
		return func(n int, do func(int) error) error { return each(ctx, o, what, n, do) }
	}
	began := time.Now()
	base, rs, err := mutate.Readings(c, spread("readings"))
	if err != nil {
		return err
	}
	t := readingTable(c.Name, base, rs, float64(j.Allowance))
	t.Seconds = time.Since(began).Seconds()
	if err := t.print(o); err != nil {
		return err
	}
	began = time.Now()
	base, ks, err := mutate.Cards(c, j, spread("cards"))
	if err != nil {
		return err
	}
	t = cardTable(c.Name, base, ks)
	t.Seconds = time.Since(began).Seconds()
	return t.print(o)
}

// deepest is how wrong a finished height may be before a change counts as harm, mm: the usual tolerance of a thickness.
const deepest = 0.10

// columns of the table of readings: kinds of change.
var columns = []string{"0.01", "0.05", "0.3", "1", "sign", "swap", "other"}

func columnOf(how string) string {
	if slices.Contains(columns, how) {
		return how
	}
	return "other"
}

// field sums the changes of the fields that differ by a figure only.
type field struct {
	name             string
	tried, released  map[string]int
	register, height float64 // of the released ones, mm
	harm             int
	worst            string
}

func newField(name string) *field {
	return &field{name: name, tried: map[string]int{}, released: map[string]int{}}
}

// add counts one change, and what harm it did.
func (f *field) add(r mutate.Result, m mutate.Meaning, allowance float64) {
	c := columnOf(r.How)
	f.tried[c]++
	if r.State != "released" {
		return
	}
	f.released[c]++
	f.register, f.height = max(f.register, r.Register), max(f.height, r.Height)
	if harms(r, m, allowance) {
		f.harm++
	}
}

// fieldsOf are the fields by name and in order, and all of them as one.
func fieldsOf(rs []mutate.Result, allowance float64) (all *field, fields map[string]*field, order []string) {
	all, fields = newField("all"), map[string]*field{}
	for _, r := range rs {
		n := r.Step + "/" + r.Field
		f := fields[n]
		if f == nil {
			f = newField(n)
			fields[n] = f
			order = append(order, n)
		}
		m := mutate.Meant(r)
		f.add(r, m, allowance)
		all.add(r, m, allowance)
		if r.State == "released" && m.Off > off(f.worst) {
			f.worst = cmp.Or(strings.TrimPrefix(strings.TrimPrefix(fmt.Sprintf("%.2f %s", m.Off, m.Kind), "1.00 hold"), "1.00 collision"), m.Kind)
		}
	}
	return all, fields, order
}

func readingTable(name string, base bool, rs []mutate.Result, allowance float64) *table {
	state := "released"
	if !base {
		state = "held"
	}
	t := &table{Name: "mutate-" + name, Title: "each reading changed alone (the record itself is " + state + "): released of tried",
		Cases: len(rs)}
	t.Head = append(append([]string{"field"}, columns...), "offset moved XY mm", "Z mm", "part or tool off mm", "harm", "why it is released")
	all, fields, order := fieldsOf(rs, allowance)
	row := func(f *field, why string) {
		cells := []any{f.name}
		for _, c := range columns {
			cells = append(cells, share(f.released[c], f.tried[c]))
		}
		t.row(append(cells, f.register, f.height, f.worst, f.harm, why)...)
	}
	row(all, "")
	quiet := 0
	for _, n := range order {
		f := fields[n]
		if len(f.released) == 0 {
			quiet++
			continue
		}
		why := mutate.Why(n)
		row(f, why)
		if why == "" && f.harm > 0 {
			t.miss("%s: %d changes do harm and are released, and nobody has said why", n, f.harm)
		}
	}
	t.Notes = []string{fmt.Sprintf("%d further fields: no change of them is released", quiet),
		fmt.Sprintf("harm: the offset moved by more than the allowance %.2f, part or tool off by more than that sideways", allowance),
		fmt.Sprintf("or by more than %.2f in height, or what holds is not what was judged", deepest)}
	return t
}

func harms(r mutate.Result, m mutate.Meaning, allowance float64) bool {
	most := map[string]float64{"register": allowance, "height": deepest} // of the others none
	return m.Off > most[m.Kind] || r.Register > allowance || r.Height > deepest
}

func off(s string) float64 { var x float64; fmt.Sscan(s, &x); return x }

func share(a, b int) string {
	if b == 0 {
		return ""
	}
	if a == 0 {
		return "-"
	}
	return fmt.Sprintf("%d/%d", a, b)
}

func cardTable(name string, base bool, ks []mutate.Card) *table {
	state := "released"
	if !base {
		state = "held"
	}
	t := &table{Name: "mutate-" + name + "-cards", Title: "each key of job and cards changed after the last event (the record itself is " +
		state + ")"}
	t.Cases = len(ks)
	t.Head = []string{"key", "tried", "refused", "same", "not released", "released", "of these anew held", "which", "why it is released"}
	type sum struct{ n, refused, same, back, released, hole int }
	var order []string
	by := map[string]*sum{}
	which := map[string]string{}
	var all sum
	for _, k := range ks {
		s := by[k.Name]
		if s == nil {
			s = &sum{}
			by[k.Name] = s
			order = append(order, k.Name)
		}
		for _, x := range []*sum{s, &all} {
			x.n++
			switch k.State {
			case "refused":
				x.refused++
			case "same":
				x.same++
			case "taken back":
				x.back++
			default:
				x.released++
				if k.Anew == "held" {
					x.hole++
				}
			}
		}
		if k.State == "released" && k.Anew == "held" && which[k.Name] == "" {
			which[k.Name] = fmt.Sprintf("%s to %s: %s", k.Was, k.Is, k.At)
		}
	}
	row := func(n string, s *sum, why string) {
		t.row(n, s.n, s.refused, s.same, s.back, s.released, s.hole, which[n], why)
	}
	row("all", &all, "")
	caught := 0
	for _, n := range order {
		if s := by[n]; s.released > 0 {
			row(n, s, mutate.WhyCard(n))
		} else {
			caught++
		}
	}
	t.Notes = []string{fmt.Sprintf("%d further keys: no change of them leaves the release standing", caught),
		"anew held: had the key been so from the beginning, the same readings would not be released"}
	return t
}

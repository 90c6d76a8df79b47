package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"strings"

	"fliptrue/steps/prove"

	"github.com/spf13/cobra"
)

// statesOptions are what prove states was asked for.
type statesOptions struct {
	n       int
	seed    uint64
	workers int
	full    bool
	plain   bool
	record  string
	archive string
	at      int

	stdout, stderr io.Writer
}

// statesCommand prints what seeded walks and kept records mean, to be compared before and after a change.
func statesCommand(stdout, stderr io.Writer, workers int) *cobra.Command {
	o := statesOptions{stdout: stdout, stderr: stderr, workers: workers}
	c := &cobra.Command{
		Use: "states", Short: "print the State of seeded walks, to compare before and after a change",
		Long: `Walks seeded walks and prints one line each: seed, name, events, and two hashes of the
State after every tenth event: of numbers, ids and values alone, and of everything. What
changes nothing leaves every line as it is:

  prove states --n 1000 > before;  ... change ...;  prove states --n 1000 | diff before -

A line that differs is looked at by its seed, before and after: prove states --full --seed 17 --at 120
Events are those of the walk; --at 0 is after the last one.
--record NAME prints a record of testdata/records/records.zip in the same way.`,
		SilenceErrors: true, SilenceUsage: true, Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return o.run(c.Context()) },
	}
	f := c.Flags()
	f.IntVar(&o.n, "n", 1000, "how many walks")
	f.Uint64Var(&o.seed, "seed", 1, "seed of the first walk; the others follow it")
	f.IntVar(&o.workers, "workers", o.workers, "how many walks at a time")
	f.BoolVar(&o.full, "full", false, "print the one walk of that seed: its record, and its State as text")
	f.BoolVar(&o.plain, "plain", false, "with --full or --record: leave the words out")
	f.StringVar(&o.record, "record", "", "print a kept record by its name, and its State as text")
	f.StringVar(&o.archive, "archive", "testdata/records/records.zip", "where --record looks")
	f.IntVar(&o.at, "at", 0, "with --full or --record: after how many events; 0: after the last")
	return c
}

func (o statesOptions) run(ctx context.Context) error {
	if o.n < 1 || o.workers < 1 || o.at < 0 {
		return fmt.Errorf("--n %d --workers %d --at %d: give counts from 1", o.n, o.workers, o.at)
	}
	if o.record != "" {
		return o.kept()
	}
	if o.full {
		w, err := prove.Draw(o.seed)
		if err != nil {
			return err
		}
		text, err := w.Keep()
		if err != nil {
			return err
		}
		k, err := prove.ReadKept(w.Name, text)
		if err != nil {
			return err
		}
		return o.print(k, text)
	}
	lines := make([]string, o.n)
	err := each(ctx, options{workers: o.workers, stderr: o.stderr}, "states", o.n, func(i int) error {
		w, err := prove.Draw(o.seed + uint64(i))
		if err != nil {
			return fmt.Errorf("seed %d: %w", o.seed+uint64(i), err)
		}
		lines[i], err = w.Line()
		return err
	})
	if err != nil {
		return err
	}
	_, err = io.WriteString(o.stdout, strings.Join(lines, "\n")+"\n")
	return err
}

// kept prints a record of the archive.
func (o statesOptions) kept() error {
	data, err := os.ReadFile(o.archive)
	if err != nil {
		return err
	}
	texts, err := prove.Unzip(data)
	if err != nil {
		return fmt.Errorf("%s: %w", o.archive, err)
	}
	text, ok := texts[o.record]
	if !ok {
		return fmt.Errorf("there is no record %q in %s; states.txt beside it lists them", o.record, o.archive)
	}
	k, err := prove.ReadKept(o.record, text)
	if err != nil {
		return err
	}
	return o.print(k, text)
}

// print prints a record and its State.
func (o statesOptions) print(k prove.Kept, record []byte) error {
	programs, err := prove.Programs(k.Programs)
	if err != nil {
		return err
	}
	n := o.at
	if n == 0 {
		n = len(k.Events)
	}
	t, err := prove.At(k.Job, programs, k.Events, n)
	if err != nil {
		return err
	}
	if o.plain {
		t = t.Plain()
	}
	w := bufio.NewWriter(o.stdout)
	w.Write(record)
	fmt.Fprintf(w, "\nState after event %d\n", n)
	w.Write(t)
	return w.Flush()
}

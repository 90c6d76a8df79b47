// Command prove measures what the program is worth, on benches that are not there: whether
// the uncertainty it states holds, which mistakes a walk catches, whether advice helps, and
// whether anything is lost when the power goes.
//
//	go run ./cmd/prove [TABLE ...] [--n N] [--seed S] [--out DIR] [--json]; --help lists the tables
//
// Each table is printed when it is ready and, with --out, written as text and JSON. Every
// failure stands below its table with the seed of its case: the same table with that seed and
// --n 1 does that case again and tells it in full.
//
//	go run ./cmd/prove states [--n N] [--seed S]
//
// prints instead what seeded walks mean, to be compared before and after a change.
//
// Goals: anyone can run it again and get the same numbers; nothing is tuned to pass.
// Non-goals: speed of the program, its looks.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"

	"fliptrue/steps/bench"
	"fliptrue/steps/fold"

	"github.com/spf13/cobra"
)

// options are what a run was asked for.
type options struct {
	n       int    // cases, 0 for the table's own full number
	seed    uint64 // of the first case; the others follow it
	out     string
	asJSON  bool
	only    string   // one mistake, one fault ...
	off     []string // effects switched off
	just    []string // effects that alone are on
	set     []string // effects with another size, NAME=SIZE
	errs    float64  // per cent of the answers that the person gives wrong
	at      string   // level of the walks, "" for all that a walk can read
	without []string // readings that are left out
	workers int
	binary  string // the program to be killed, "" to build it
	verbose bool
	night   bool   // a share of each table
	of      string // which of several tables is made
	stride  int    // tests: only each so many-th of what is exhaustive

	stdout, stderr io.Writer
}

// prover makes one table.
type prover struct {
	name, what string
	full       int    // cases of the full run, 0: as many as there are
	night      int    // of a night's run, 0: not made then
	cases      string // what --n counts, "" where there is nothing to count
	run        func(context.Context, options) (*table, error)
}

var provers = []prover{
	{"counts", "what a sound setup asks of the person, by step and level", 0, 1, "", counts},
	{"worth", "what each reading earns for its minutes, the best set of each level, and which level costs least from which worth", 0, 1, "", worthTable},
	{"effects", "what the bench does that the drawing does not say, and who answers for it", 0, 1, "", effectsTable},
	{"coverage", "how often the stated interval holds the true error, by effect, kind and level", 1000, 1000, "walks in each cell", coverage},
	{"sizes", "which effect of the bench breaks the intervals, and from which size", 100, 30, "walks for each effect and size", sizesTable},
	{"strata", "coverage over random parts, fixtures, machines and days", 20000, 2000, "walks in all", strata},
	{"catch", "how often each mistake is caught before the first cut, and what of the parts cut is harmed", 100, 16,
		"walks for each mistake, size and level", catch},
	{"kinds", "how often mistakes are caught that one kind of setup alone has", 30, 16, "walks for each mistake and size", kindsTable},
	{"curves", "PASS, FAIL and NOT PROVEN over the true mismatch, drawn; with --out as a drawing for paper", 300, 40,
		"walks for each plan and level, twice", curves},
	{"persons", "what a person who errs comes to", 200, 44, "walks for each share and level, sound and with a mistake each", persons},
	{"clean", "how often a sound setup is stopped or wrongly named", 5000, 1200, "walks in all", clean},
	{"signs", "whether advice followed always helps, and disobeyed is found", 2, 0, "walks for each combination, each way", signs},
	{"kills", "what is lost when the process is killed", 1000, 60, "kills", kills},
	{"monkey", "what random keys do to the real program", 240, 8, "sittings of 150 keys", monkey},
	{"cuts", "what a record cut at every byte still says", 0, 2000, "cuts in all", cuts},
	{"disk", "what the person sees when the disk fails", 0, 1, "", diskFaults},
	{"outside", "whether intervals hold in a simulator that shares no code with the product", 3000, 1000, "walks in all", outsideTable},
	{"outside-kinds", "the same of inspect, reuse, rescue and fixture; --only takes one of them, or a mistake", 300, 40,
		"sound records of each kind; a tenth of that with each mistake", outsideKinds},
	{"speed", "how long a person waits, and ratios beside what is known", 0, 0, "first frames", speed},
	{"suite", "tests of which the suite keeps a slice, whole", 0, 1, "", suite},
	{"sheets", "whether printed sheets fit A4 and Letter and can be read without colour", 0, 0, "", sheets},
	{"outside-sizes", "which effect of that simulator breaks them, and from which size", 30, 0, "walks for each effect and size", outsideSizes},
}

// errMissed is a run whose tables miss their marks.
var errMissed = errors.New("a mark is missed")

func main() {
	debug.SetGCPercent(400)       // memory is cheaper than time here
	debug.SetMemoryLimit(4 << 30) // but not more than a small machine has
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	err := command(os.Stdout, os.Stderr).ExecuteContext(ctx)
	switch {
	case err == nil:
	case errors.Is(err, context.Canceled):
		os.Exit(130)
	case errors.Is(err, errMissed):
		os.Exit(1)
	default:
		fmt.Fprintln(os.Stderr, "prove:", err)
		os.Exit(3)
	}
}

func command(stdout, stderr io.Writer) *cobra.Command {
	o := options{stdout: stdout, stderr: stderr, workers: runtime.NumCPU()}
	var names, long []string
	for _, p := range provers {
		names = append(names, p.name)
		long = append(long, fmt.Sprintf("  %-13s %s", p.name, p.what))
		switch {
		case p.full > 0:
			long = append(long, fmt.Sprintf("  %13s --n: %s; %d", "", p.cases, p.full))
		case p.cases != "":
			long = append(long, fmt.Sprintf("  %13s --n: %s; all there are", "", p.cases))
		}
	}
	c := &cobra.Command{
		Use: "prove [" + strings.Join(names, "|") + "|all]", Short: "Measure what the program is worth",
		Long:          "Measures what the program is worth. Without a name all tables are made.\n\n" + strings.Join(long, "\n"),
		SilenceErrors: true, SilenceUsage: true, ValidArgs: append(names, "all"), Args: cobra.OnlyValidArgs,
		RunE: func(c *cobra.Command, args []string) error {
			return runAll(c.Context(), o, args)
		},
	}
	f := c.Flags()
	f.IntVar(&o.n, "n", 0, "how many cases, of what each table counts; 0: the full number")
	f.BoolVar(&o.night, "nightly", false, "a share of each table that two cores make in 15 minutes together; without speed and sheets")
	f.Uint64Var(&o.seed, "seed", 1, "seed of the first case; the others follow it")
	f.StringVar(&o.out, "out", "", "folder to write the tables to, as text and JSON")
	f.BoolVar(&o.asJSON, "json", false, "print JSON")
	f.StringVar(&o.only, "only", "", "one row alone: a mistake, fault, effect or kind of setup")
	f.StringSliceVar(&o.off, "off", nil, "effects of the bench to switch off, by name; prove effects lists them")
	f.StringSliceVar(&o.just, "just", nil, "effects of the bench to leave on, all others off")
	f.StringSliceVar(&o.set, "set", nil, "effects of the bench with another size, as Drift=0.01")
	f.Float64Var(&o.errs, "errs", 0, "per cent of the answers that the person gives wrong; digits and acts in proportion")
	f.StringVar(&o.at, "level", "", "how much the walks read: proven, first use, irreplaceable or full; without it each, or all there is")
	f.StringSliceVar(&o.without, "without", nil, "clean, strata: leave these readings out, step/field each, as seat/py*: what they are worth")
	f.IntVar(&o.workers, "workers", o.workers, "how many cases at a time")
	f.StringVar(&o.binary, "binary", "", "kills, monkey, outside, speed: the program to try; default one built for it")
	c.AddCommand(statesCommand(stdout, stderr, o.workers), mutateCommand(stdout, stderr, o.workers), mutantsCommand(),
		publishedCommand(stdout), readmeCommand(stdout))
	return c
}

// level is that of the walks; a name that is none was refused.
func (o options) level() fold.Level { l, _ := fold.LevelOf(o.at); return l }

func runAll(ctx context.Context, o options, args []string) error {
	if _, ok := fold.LevelOf(o.at); o.at != "" && !ok && o.at != fold.Full.String() {
		return fmt.Errorf("--level %q: give proven, first use, irreplaceable or full", o.at)
	}
	if o.errs < 0 || o.errs > 50 {
		return fmt.Errorf("--errs %g: give per cent from 0 to 50", o.errs)
	}
	if o.n < 0 || o.workers < 1 {
		return fmt.Errorf("--n %d --workers %d: give counts from 1", o.n, o.workers)
	}
	if _, err := o.sizes(); err != nil { // the second simulator has effects of its own
		if err := o.switchEffects(&bench.Effects{}); err != nil {
			return err
		}
	}
	wanted := provers
	if len(args) > 0 && !slices.Contains(args, "all") {
		wanted = slices.DeleteFunc(slices.Clone(provers), func(p prover) bool { return !slices.Contains(args, p.name) })
	}
	if o.night {
		wanted = slices.DeleteFunc(slices.Clone(wanted), func(p prover) bool { return p.night == 0 })
	}
	missed := false
	for i, p := range wanted {
		q := o
		if len(wanted) > 1 {
			q.of = fmt.Sprintf("%d of %d: ", i+1, len(wanted))
		}
		if q.n == 0 {
			q.n = p.full
			if o.night && p.cases != "" {
				q.n = p.night
			}
		}
		q.verbose = q.n == 1 && p.cases != "" && p.full != 1
		began := time.Now()
		t, err := p.run(ctx, q)
		if err != nil && len(wanted) > 1 && ctx.Err() == nil { // one table that can't be made does not cost the others
			fmt.Fprintf(o.stderr, "prove: %s: %v\n", p.name, err)
			missed = true
			continue
		}
		if err != nil {
			return fmt.Errorf("%s: %w", p.name, err)
		}
		if q.verbose && len(t.Rows) == 0 { // one case has told its story
			continue
		}
		t.Name, t.Seed, t.Seconds = p.name, o.seed, time.Since(began).Seconds()
		missed = missed || len(t.Missed) > 0
		if err := t.print(o); err != nil {
			return err
		}
	}
	if missed {
		return errMissed
	}
	return nil
}

// switchEffects leaves on what was asked for. An unknown effect is an error that lists the known.
func (o options) switchEffects(e *bench.Effects) error {
	if len(o.just) > 0 {
		was := map[string]float64{}
		for _, f := range e.List() {
			was[f.Name] = f.Size
		}
		*e = bench.Effects{}
		for _, name := range o.just {
			if err := e.Set(name, was[name]); err != nil {
				return err
			}
		}
	}
	for _, name := range o.off {
		if err := e.Set(name, 0); err != nil {
			return err
		}
	}
	return o.eachSet(func(name string, size float64) error { return e.Set(name, size) })
}

// eachSet gives what --set asks for.
func (o options) eachSet(give func(name string, size float64) error) error {
	for _, s := range o.set {
		name, size, _ := strings.Cut(s, "=")
		x, err := strconv.ParseFloat(size, 64)
		if err != nil || x < 0 {
			return fmt.Errorf("--set %q: give NAME=SIZE, a size from 0", s)
		}
		if err := give(name, x); err != nil {
			return err
		}
	}
	return nil
}

// write puts a file into the folder asked for.
func (o options) write(name string, data []byte) error {
	if err := os.MkdirAll(o.out, 0o777); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(o.out, name), data, 0o666)
}

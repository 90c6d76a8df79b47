package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fliptrue/calc/ncode"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"

	"github.com/spf13/cobra"
)

type programOptions struct {
	job, file     string
	record, setup string
	asJSON        bool
}

func programCommand(r *runner) *cobra.Command {
	var o programOptions
	c := &cobra.Command{
		Use: "program JOB FILE", Short: "Hold an NC program against a setup: offset, tools, travel, and what stands on the table",
		Long: "Follows a program line by line and says what speaks against it, with the line of each finding.\n" +
			"With --record it is held against what was measured: offset, tool lengths, travel, and what stands\n" +
			"on the table at that point of the setup. Without, it is a desk check: where the offset lies is not\n" +
			"known yet, so neither is the travel.\n\n" +
			"Rapids, shank and holder are held against the stock as the program has cut it by then, and each\n" +
			"cutter against what the hold-down carries of a cut so wide. With lengths: table on the machine card\n" +
			"a tool that moves without G43 does not pass; with lengths: touched-off one tool a program may.\n\n" +
			"A program of any length is read a piece at a time; Ctrl-C stops it. It never says what a control\n" +
			"will really do, only what the program says.",
		Args: argsNamed("JOB", "FILE"),
		RunE: func(_ *cobra.Command, args []string) error {
			o.job, o.file = args[0], args[1]
			r.ownInterrupts()
			ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
			defer stop()
			return r.do(program(ctx, r.env, o))
		},
	}
	c.Flags().StringVar(&o.record, "record", "", "record of a part: hold it against what was measured; left out, the last one, and none for "+
		"a desk check")
	c.Flags().StringVar(&o.setup, "setup", "", "which setup; default the one of the record, or that names the file")
	c.Flags().BoolVar(&o.asJSON, "json", false, "print JSON; lengths in mm")
	return c
}

// programJSON is what a program comes to. Lengths in mm; W is the work offset's frame, M the machine's.
type programJSON struct {
	File     string         `json:"file"`
	Role     string         `json:"role"`  // as the job names it; "" when it does not
	Setup    string         `json:"setup"` // that it was held against
	Verdict  fold.Verdict   `json:"verdict"`
	Measured bool           `json:"measured"` // held against a measured offset; else a desk check
	Bytes    int64          `json:"bytes"`
	Lines    int            `json:"lines"`
	Moves    int            `json:"moves"`
	BoxW     []*float64     `json:"box_w"`   // lowest x y z, highest x y z; null: not known
	BoxM     []*float64     `json:"box_m"`   // the same in M
	Margins  []*float64     `json:"margins"` // x y z: least distance to the ends of the travel
	Findings []findingJSON  `json:"findings"`
	Nearest  []nearestJSON  `json:"nearest"` // to each thing that stands there and that a tool came below the top of
	Steps    []toolStepJSON `json:"steps"`   // deepest step in Z of each cutter, an upper bound
	Checks   []checkLine    `json:"checks"`
	Notes    []string       `json:"notes"`
}

type findingJSON struct {
	Line     int    `json:"line"` // 0: the program as a whole
	Severity string `json:"severity"`
	ID       string `json:"id"`
	Words    string `json:"words"`
	Hint     string `json:"hint"`
	Clause   string `json:"clause"` // of NISTIR 6556, for a refusal
	More     int    `json:"more"`   // how many more like it
}

type nearestJSON struct {
	Obstacle string     `json:"obstacle"`
	Line     int        `json:"line"`
	Gap      float64    `json:"gap"` // in plan; negative where they overlap
	Needed   float64    `json:"needed"`
	Part     string     `json:"part"` // tool, neck, shank or holder
	Tool     int        `json:"tool"`
	Rapid    bool       `json:"rapid"`
	At       [3]float64 `json:"at"`    // W of the tip
	First    int        `json:"first"` // first line that comes too near, 0 for none
}

type toolStepJSON struct {
	Tool int     `json:"tool"`
	Line int     `json:"line"`
	Step float64 `json:"step"`
}

// asNamed is the path of a program: as it stands, else beside the job, as the job names it.
func (e *env) asNamed(j *jobs.Job, path string) string {
	if _, err := e.disk.Size(path); err != nil && !filepath.IsAbs(path) {
		if _, err := e.disk.Size(besides(j.Path, path)); err == nil {
			return besides(j.Path, path)
		}
	}
	return path
}

// programsPlan is the plan of the setup that a program belongs to, with the state of its record where one is named.
func (e *env) programsPlan(j *jobs.Job, path string, o programOptions) (*fold.Plan, *fold.State, error) {
	if o.record != "" {
		r, err := e.readRecord(o.job, o.record)
		if err != nil {
			return nil, nil, err
		}
		f, err := r.pick(o.setup)
		if err != nil {
			return nil, nil, err
		}
		return f.plan, &f.state, nil
	}
	s, err := setupFor(j, path, o.setup)
	if err != nil {
		return nil, nil, err
	}
	p, err := steps.NewPlan(j, s.Name, nil)
	if err != nil {
		return nil, nil, &inputError{j.Path, err.Error(), "this version walks other kinds of setups"}
	}
	return p, nil, nil
}

// heldAgainst says what a program was held against.
func heldAgainst(o programOptions, byItself, placed bool) (notes []string) {
	if byItself {
		notes = append(notes, "Held against "+filepath.Base(o.record)+", the last record; --record none makes it a desk check.")
	}
	switch {
	case o.record != "" && !placed:
		notes = append(notes, "No offset stands in the record: this is a desk check, without the travel.")
	case o.record == "":
		notes = append(notes, "A desk check: where the offset lies is not known, so the travel is not checked. What stands on the table "+
			"is as drawn.")
	}
	return notes
}

// program follows one program. The whole of it is never in memory.
func program(ctx context.Context, e *env, o programOptions) (exit, error) {
	j, err := e.readJob(o.job)
	if err != nil {
		return exitOf(err), err
	}
	path := e.asNamed(j, o.file)
	byItself, err := e.byLastRecord(j, path, &o)
	if err != nil {
		return exitOf(err), err
	}
	p, st, err := e.programsPlan(j, path, o)
	if err != nil {
		return exitOf(err), err
	}
	role := roleOf(j, p.Setup, path)
	src, err := e.disk.Open(path)
	if err != nil {
		return exitInput, &inputError{path, "the program cannot be read: " + plainError(err), "name the file as it was posted"}
	}
	defer src.Close()
	size, _ := e.disk.Size(path)
	rep, err := desk.CheckProgram(p, ctx, filepath.Base(path), role, src, st, e.progress(filepath.Base(path), size))
	if errors.Is(err, context.Canceled) {
		fmt.Fprintf(e.err, "interrupted; nothing is judged of %s\n", filepath.Base(path))
		return exitInterrupted, errInterrupted
	}
	if err != nil {
		return exitDisk, &jobs.DiskError{Op: "read", Path: path, What: "cannot read " + quoted(path) + ": " + plainError(err),
			Hint: "check the disk, then try again", Err: err}
	}
	measured := st != nil && rep.Placed
	rep.Notes = append(rep.Notes, heldAgainst(o, byItself, rep.Placed)...)
	if note, err := postedSince(e, st, role, path); err != nil {
		return exitOf(err), err
	} else if note != "" {
		rep.Notes = append(rep.Notes, note)
	}
	if o.asJSON {
		e.json(programAsJSON(p, rep, role, measured))
	} else {
		fmt.Fprint(e.out, programText(p, rep, role))
	}
	if rep.Verdict() != fold.Pass {
		return exitNo, nil
	}
	return exitOK, nil
}

// byLastRecord takes the last record of the job where none is named and the file's setup is
// begun in it; itself says that it did. "none" asks for a desk check.
func (e *env) byLastRecord(j *jobs.Job, path string, o *programOptions) (itself bool, err error) {
	if o.record == "none" {
		o.record = ""
		return false, nil
	}
	if o.record != "" {
		return false, nil
	}
	last, err := e.lastRecord(o.job)
	if err != nil {
		return false, nil // there is none
	}
	s, err := setupFor(j, path, o.setup)
	if err != nil {
		return false, err
	}
	es, _, faults := jobs.ReadRecord(e.disk, last)
	if len(faults) > 0 {
		return false, faults
	}
	if !slices.Contains(begun(es), s.Name) {
		return false, nil
	}
	o.record, o.setup = last, s.Name
	return true, nil
}

// setupFor is the setup that was asked for, or that names the file, or the only one.
func setupFor(j *jobs.Job, path, name string) (*jobs.Setup, error) {
	if name != "" {
		if s, ok := j.Setup(name); ok {
			return s, nil
		}
		return nil, &usageError{"there is no setup " + quoted(name) + " in " + j.Path, "the setups are: " + strings.Join(setupNames(j), " ")}
	}
	for i := range j.Setups {
		if roleOf(j, &j.Setups[i], path) != "" {
			return &j.Setups[i], nil
		}
	}
	if len(j.Setups) == 1 {
		return &j.Setups[0], nil
	}
	return nil, &usageError{"no setup of " + j.Path + " names " + quoted(path), "say which one with --setup: " + strings.Join(
		setupNames(j), " ")}
}

// roleOf is the role that a setup gives the file, "" for none.
func roleOf(j *jobs.Job, s *jobs.Setup, path string) string {
	for _, g := range s.Programs {
		if filepath.Clean(besides(j.Path, g.File)) == filepath.Clean(path) {
			return g.Role
		}
	}
	return ""
}

// progress says on standard error how far a long program was read, about once a second.
func (e *env) progress(name string, size int64) func(int64, int) {
	start := e.now()
	last := start
	return func(bytes int64, lines int) {
		now := e.now()
		if now.Sub(last) < time.Second {
			return
		}
		last = now
		fmt.Fprintf(e.err, "reading %s: %.1f of %.1f MB, %d lines, %.0f s\n", name, float64(bytes)/1e6, float64(size)/1e6, lines,
			now.Sub(start).Seconds())
	}
}

// postedSince says that a file is not the one that the record speaks of.
func postedSince(e *env, st *fold.State, role, path string) (string, error) {
	if st == nil || role == "" {
		return "", nil
	}
	want := st.Plan().Posted(role)
	if want == "" {
		return "", nil
	}
	sum, err := e.checksum(path)
	if err != nil || sum == want {
		return "", err
	}
	return fmt.Sprintf("It is not the file that the record speaks of: its checksum is %s, the record's %s. It was posted again or edited.",
		sum, want), nil
}

// checksum is the first 16 hex digits of a file's SHA-256, however long it is.
func (e *env) checksum(path string) (string, error) {
	f, err := e.disk.Open(path)
	if err != nil {
		return "", &inputError{path, "the program cannot be read: " + plainError(err), "name the file as it was posted"}
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", &inputError{path, "the program cannot be read: " + plainError(err), "name the file as it was posted"}
	}
	return hex.EncodeToString(h.Sum(nil))[:16], nil
}

func programAsJSON(p *fold.Plan, r desk.ProgramReport, role string, measured bool) programJSON {
	out := programJSON{File: r.File, Role: role, Setup: p.Setup.Name, Verdict: r.Verdict(), Measured: measured, Bytes: r.Bytes, Lines: r.Lines,
		Moves:    r.Moves,
		Findings: []findingJSON{}, Nearest: []nearestJSON{}, Steps: []toolStepJSON{}, Checks: []checkLine{},
		Notes: append([]string{}, r.Notes...)}
	six := func(b *[6]float64) (v []*float64) {
		if b != nil {
			for _, x := range b {
				v = append(v, finite(x))
			}
		}
		return v
	}
	out.BoxW, out.BoxM = six(r.Box), six(r.Machine)
	if r.Margin != nil {
		for _, x := range r.Margin {
			out.Margins = append(out.Margins, finite(x))
		}
	}
	for _, f := range r.Findings {
		out.Findings = append(out.Findings, findingJSON{f.Line, f.Severity.String(), f.ID, f.Words, f.Hint, f.Clause, f.More})
	}
	for _, n := range r.Near {
		if n.Below {
			out.Nearest = append(out.Nearest, nearestJSON{n.Obstacle, n.Line, n.Gap, n.Needed, n.Part, n.Tool, n.Rapid, n.At, n.First})
		}
	}
	for _, s := range r.Steps {
		out.Steps = append(out.Steps, toolStepJSON(s))
	}
	for _, k := range r.Checks {
		out.Checks = append(out.Checks, checkLine{Limit: k.Limit.ID, Why: k.Limit.Why, Got: finite(k.Got), Max: finite(k.Limit.Max),
			Class: k.Limit.Class.String(), Verdict: k.Verdict, Words: k.Words})
	}
	return out
}

func programText(p *fold.Plan, r desk.ProgramReport, role string) string {
	var b strings.Builder
	sys := p.Job.Unit
	show := func(v float64) string { return unit.Show(v, unit.KLength, sys, 0) }
	fmt.Fprintf(&b, "%s: %v; %d lines, %d moves", r.File, r.Verdict(), r.Lines, r.Moves)
	if role != "" {
		fmt.Fprintf(&b, "; role %s", role)
	}
	fmt.Fprintf(&b, " in setup %s\n", p.Setup.Name)
	for _, row := range r.Rows {
		fmt.Fprintf(&b, "  %s: %s\n", row.Label, row.Text)
	}
	below := false
	for _, n := range r.Near {
		if below = below || n.Below; n.Below {
			fmt.Fprintf(&b, "  nearest to %s: line %d, the %s of T%d, %s; %s needed\n", n.Obstacle, n.Line, n.Part, n.Tool, show(n.Gap),
				show(n.Needed))
		}
	}
	if len(r.Near) > 0 && !below && r.Held() {
		fmt.Fprintf(&b, "  no part of a tool comes below the top of the %d things that stand there\n", len(r.Near))
	}
	for _, f := range r.Findings {
		if f.Line > 0 {
			fmt.Fprintf(&b, "%s:%d: ", r.File, f.Line)
		} else {
			fmt.Fprintf(&b, "%s: ", r.File)
		}
		f.Line = 0
		fmt.Fprintln(&b, f)
	}
	for _, k := range r.Checks {
		if !k.Verdict.OK() && !fromFinding(k, r.Findings) {
			fmt.Fprintf(&b, "%v: %s\n", k.Verdict, k.Words)
		}
	}
	for _, n := range r.Notes {
		if !strings.HasPrefix(n, r.File+":") {
			b.WriteString("- " + n + "\n")
		}
	}
	return b.String()
}

// fromFinding says that a check only repeats findings that were printed.
func fromFinding(k fold.Check, fs []ncode.Finding) bool {
	for _, f := range fs {
		if strings.HasSuffix(k.Limit.ID, "."+f.ID) || strings.HasSuffix(k.Limit.ID, "."+f.ID+".unproven") ||
			strings.HasSuffix(k.Limit.ID, "."+f.ID+".refused") {
			return true
		}
	}
	return false
}

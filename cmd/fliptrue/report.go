package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/report"

	"github.com/spf13/cobra"
)

type reportOptions struct {
	job, record string
	setup       string
	format      string
	out         string // file, "" for standard output
	blank, tag  bool
}

// reportFormats are what a report may be written as.
var reportFormats = []string{"text", "html", "json", "csv"}

func reportCommand(r *runner) *cobra.Command {
	var o reportOptions
	as := map[string]*bool{}
	c := &cobra.Command{
		Use: "report [JOB|FOLDER] [RECORD] [FILE.html]", Short: "Print the one-page record, the fixture tag, or a blank paper list",
		Long: "Prints the one-page record of a part with its fixture tag. Without a record it is that of the last part; a record\nalone will " +
			"do, which carries its job. Of a folder it is one page over all its parts and fixtures. With --html, or written to a file that " +
			"ends in " +
			".html, it is a sheet to be printed\non one side of A4 or Letter, with its drawings. With --blank the walk as a paper list, with " +
			"--tag " +
			"the tag alone, with\n--csv all readings. Writes nothing but the file that is named; one that is there is never written over, but for " +
			"a sheet.",
		Args: func(c *cobra.Command, args []string) error {
			if args = sheetFile(args, &o); len(args) == 1 {
				return nil
			}
			return argsNamed("JOB", "RECORD")(c, args)
		},
		RunE: func(c *cobra.Command, args []string) error {
			o.job, o.record = jobAndRecord(r.env, sheetFile(args, &o))
			if err := o.settle(as); err != nil {
				return r.do(exitUsage, err)
			}
			return r.do(runReport(r.env, o))
		},
	}
	f := c.Flags()
	f.StringVar(&o.format, "format", "", strings.Join(reportFormats, ", ")+"; default by the file's ending, else text")
	as["json"] = f.Bool("json", false, "print JSON; lengths in mm")
	as["html"] = f.Bool("html", false, "a sheet to be printed, with its drawings")
	as["csv"] = f.Bool("csv", false, "all readings, one a line")
	f.StringVar(&o.out, "out", "", "the file to write to")
	f.StringVar(&o.setup, "setup", "", "which setup; default the last begun, for --blank and --tag the first")
	f.BoolVar(&o.blank, "blank", false, "a blank list of the walk")
	f.BoolVar(&o.tag, "tag", false, "the fixture tag alone")
	return c
}

// sheetFile takes a file to be written out of the arguments: one that ends in .html.
func sheetFile(args []string, o *reportOptions) []string {
	return slices.DeleteFunc(slices.Clone(args), func(a string) bool {
		if !strings.HasSuffix(a, ".html") {
			return false
		}
		o.out = a
		return true
	})
}

// settle finds the format by the flags, else by the ending of the file.
func (o *reportOptions) settle(as map[string]*bool) error {
	for _, f := range reportFormats {
		if on := as[f]; on != nil && *on {
			if o.format != "" && o.format != f {
				return &usageError{"both " + o.format + " and " + f + " are asked for", "ask for one"}
			}
			o.format = f
		}
	}
	if o.format == "" {
		o.format = "text"
		if ext := strings.TrimPrefix(filepath.Ext(o.out), "."); slices.Contains(reportFormats, ext) {
			o.format = ext
		}
	}
	if !slices.Contains(reportFormats, o.format) {
		return &usageError{"format " + quoted(o.format) + " is not known", "known are: " + strings.Join(reportFormats, " ")}
	}
	if o.format == "csv" && (o.blank || o.tag) {
		return &usageError{"--csv is of readings", "leave out --blank and --tag"}
	}
	return nil
}

// jobAndRecord are the two by a command line that may name either alone.
func jobAndRecord(e *env, args []string) (job, record string) {
	switch {
	case len(args) == 2:
		return args[0], args[1]
	case jobs.KindOf(e.disk, args[0]) == "record":
		return "", args[0]
	}
	return args[0], ""
}

// reportJSON is the one-page record with its tag; see package report for the fields.
type reportJSON struct {
	Record *report.Record `json:"record,omitempty"`
	Tag    *report.Tag    `json:"tag,omitempty"`
	Blank  *report.Sheet  `json:"blank,omitempty"`

	*report.Overview // of a folder

	all []report.Record // of all setups of the record, for --csv
}

func runReport(e *env, o reportOptions) (exit, error) {
	if o.record == "" && e.isFolder(o.job) {
		out, err := e.overview(o.job)
		if err != nil {
			return exitDisk, err
		}
		return e.give(exitOK, reportJSON{Overview: &out}, o)
	}
	if o.record == "" && !o.blank && !o.tag {
		var err error
		if o.record, err = e.lastRecord(o.job); err != nil {
			return exitOf(err), err
		}
	}
	code, out, err := e.reported(o)
	if err != nil {
		return exitOf(err), err
	}
	return e.give(code, out, o)
}

// isFolder says that a path is a folder, and no file.
func (e *env) isFolder(path string) bool {
	_, file := e.disk.Size(path)
	_, err := e.disk.List(path)
	return path != "" && file != nil && err == nil
}

// give writes what was asked for to where it was asked.
func (e *env) give(code exit, out reportJSON, o reportOptions) (exit, error) {
	if o.out == "" && o.format != "html" {
		if err := out.write(e.out, o.format); err != nil {
			return exitDisk, err
		}
		return code, nil
	}
	var b bytes.Buffer
	err := out.write(&b, o.format)
	if err != nil {
		return exitDisk, err
	}
	if o.out == "" {
		_, err = e.out.Write(b.Bytes())
	} else if err = writeSheet(e.disk, o.out, b.Bytes()); err == nil {
		fmt.Fprintln(e.out, o.out)
	}
	if err != nil {
		return exitDisk, err
	}
	return code, nil
}

// write writes what was asked for.
func (out reportJSON) write(w io.Writer, format string) error {
	switch format {
	case "json":
		data, err := json.MarshalIndent(out, "", "  ")
		if err == nil {
			_, err = w.Write(append(data, '\n'))
		}
		return err
	case "csv":
		return report.CSV(w, out.all...)
	case "html":
		return out.html(w)
	}
	var text []string
	if out.Overview != nil {
		text = append(text, out.Overview.Text())
	}
	if out.Record != nil {
		text = append(text, out.Record.Text())
	}
	if out.Blank != nil {
		text = append(text, out.Blank.Text())
	}
	if out.Tag != nil {
		text = append(text, out.Tag.Text())
	}
	_, err := io.WriteString(w, strings.Join(text, "\n"))
	return err
}

func (out reportJSON) html(w io.Writer) error {
	switch {
	case out.Overview != nil:
		return out.Overview.HTML(w)
	case out.Blank != nil:
		return out.Blank.HTML(w)
	case out.Record == nil:
		return out.Tag.HTML(w)
	}
	return out.Record.HTML(w, out.Tag)
}

// writeSheet writes a file. One that is there is written over only where it is a sheet of this program itself.
func writeSheet(d jobs.Disk, path string, data []byte) error {
	old, err := d.Read(path, maxProgram)
	if err == nil && bytes.HasPrefix(old, []byte(report.SheetStart)) && bytes.HasPrefix(data, []byte(report.SheetStart)) {
		return jobs.Rewrite(d, path, data)
	}
	return jobs.WriteFile(d, path, data)
}

// reported is what was asked for.
func (e *env) reported(o reportOptions) (code exit, out reportJSON, err error) {
	var p *fold.Plan
	var r record
	if o.record == "" {
		if p, err = e.firstPlan(o); err != nil {
			return exitOf(err), out, err
		}
	} else {
		if r, err = e.readRecord(o.job, o.record); err != nil {
			return exitOf(err), out, err
		}
		r.odd(e)
		f, err := r.pick(o.setup)
		if err != nil {
			return exitUsage, out, err
		}
		p, code = f.state.Plan(), f.standing()
		if !o.blank && !o.tag {
			rec := e.sheetOf(r, f, o.record)
			out.Record, out.all = &rec, []report.Record{rec}
			if o.format == "csv" && o.setup == "" {
				out.all = nil
				for _, f := range r.setups {
					out.all = append(out.all, e.sheetOf(r, f, o.record))
				}
			}
		}
	}
	if o.blank {
		if p, err = e.asOpened(o, p); err != nil {
			return exitOf(err), out, err
		}
		s := report.MakeSheet(p)
		out.Blank = &s
	}
	if o.tag || !o.blank {
		t, ok := e.tagOf(p, o, r)
		if !ok && o.tag {
			return exitUsage, out, &usageError{"setup " + quoted(p.Setup.Name) + " has no fixture", "name one that has, with --setup"}
		}
		if ok {
			out.Tag = &t
		}
	}
	return code, out, nil
}

// asOpened is a plan as open would begin its next part: at the level that is chosen then. Of a record it has its own.
func (e *env) asOpened(o reportOptions, p *fold.Plan) (*fold.Plan, error) {
	if o.record != "" {
		return p, nil
	}
	part, err := jobs.NextPart(e.disk, o.job)
	if err != nil {
		return p, err
	}
	how, err := e.chooseLevel(levelOptions{}, o.job, part, p)
	if err != nil {
		return p, err
	}
	return p.AtLevel(how.level), nil
}

// sheetOf is what the sheet of one setup of a record says.
func (e *env) sheetOf(r record, f folded, path string) report.Record {
	about := report.About{Part: partOf(path), Record: path, Version: version()}
	if card, ok := e.fixtureNow(f.state.Plan(), r.job.Path); ok {
		about.History = card.History
	}
	return report.Of(r.log, &f.state, about)
}

// fixtureNow is the card of a setup's fixture as it stands on the disk; ok is false where it does not read, or is now
// another fixture's.
func (e *env) fixtureNow(p *fold.Plan, jobPath string) (jobs.Fixture, bool) {
	if p.Setup.Card == "" {
		return jobs.Fixture{}, false
	}
	card, faults := jobs.ReadFixture(e.disk, besides(jobPath, p.Setup.Card))
	return card, len(faults) == 0 && card.ID == p.Job.Fixture.ID
}

// tagOf is the tag of a fixture as it is now: by its card, and by the records of the job that are not on it yet.
func (e *env) tagOf(p *fold.Plan, o reportOptions, r record) (report.Tag, bool) {
	card, ok := e.fixtureNow(p, cmp.Or(o.job, o.record))
	if !ok {
		card = p.Job.Fixture
	}
	written := func(path string) bool {
		return ok && slices.ContainsFunc(card.History, func(c jobs.Change) bool { return c.Key == recordName(path) })
	}
	owed := 0
	if o.record != "" && !written(o.record) {
		owed = r.released(p.Setup.Card)
	}
	if list, err := jobs.Records(e.disk, o.job); ok && o.job != "" && err == nil {
		for _, other := range list {
			if recordName(other.Path) == recordName(o.record) || written(other.Path) {
				continue
			}
			if r, err := e.readRecord(o.job, other.Path); err == nil {
				owed += r.released(p.Setup.Card)
			}
		}
	}
	return report.MakeTag(p, &card, owed)
}

// released counts the setups on a fixture that a record has released.
func (r record) released(card string) int {
	n := 0
	for _, f := range r.setups {
		if f.state.Released && f.state.Plan().Setup.Card == card {
			n++
		}
	}
	return n
}

// firstPlan is the plan of the setup asked for, else of the first that can be walked.
func (e *env) firstPlan(o reportOptions) (*fold.Plan, error) {
	j, err := e.readJob(o.job)
	if err != nil {
		return nil, err
	}
	if o.setup != "" {
		return e.plan(j, o.setup)
	}
	for _, s := range j.Setups {
		if p, err := e.plan(j, s.Name); err == nil {
			return p, nil
		}
	}
	return nil, &inputError{o.job, "none of its setups is of a kind that this version walks", "give a setup of kind second-side"}
}

// partOf is the part's number in a record's name, 0 when there is none.
func partOf(path string) int {
	stem := strings.TrimSuffix(path, ".record.yaml")
	n, err := strconv.Atoi(stem[strings.LastIndexByte(stem, '.')+1:])
	if err != nil {
		return 0
	}
	return n
}

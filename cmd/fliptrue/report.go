package main

import (
	"fmt"
	"strconv"
	"strings"

	"fliptrue/steps"
	"fliptrue/steps/report"

	"github.com/spf13/cobra"
)

func init() { commands = append(commands, reportCommand) }

type reportOptions struct {
	job, record string
	setup       string
	format      string
	blank, tag  bool
}

func reportCommand(r *runner) *cobra.Command {
	var o reportOptions
	c := &cobra.Command{
		Use: "report JOB [RECORD]", Short: "Print the one-page record, the fixture tag, or a blank paper list",
		Long: "Prints the one-page record of a part with its fixture tag. Without a record it is\nthat of the last part. With --blank the walk as a paper list with boxes, with --tag the tag alone;\nboth want no record. Writes nothing.",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 1 {
				return nil
			}
			return argsNamed("JOB", "RECORD")(c, args)
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if o.job = args[0]; len(args) > 1 {
				o.record = args[1]
			}
			return r.do(runReport(r.env, o))
		},
	}
	f := c.Flags()
	f.StringVar(&o.format, "format", "text", "text or json")
	f.StringVar(&o.setup, "setup", "", "which setup; default the last begun, for --blank and --tag the first")
	f.BoolVar(&o.blank, "blank", false, "a blank list of the walk")
	f.BoolVar(&o.tag, "tag", false, "the fixture tag alone")
	return c
}

// reportJSON is the one-page record with its tag; see package report for the fields.
type reportJSON struct {
	Record *report.Record `json:"record,omitempty"`
	Tag    *report.Tag    `json:"tag,omitempty"`
	Blank  *report.Sheet  `json:"blank,omitempty"`
}

func runReport(e *env, o reportOptions) (exit, error) {
	if o.format != "text" && o.format != "json" {
		return exitUsage, &usageError{"format " + quoted(o.format) + " is not known", "write --format text or --format json"}
	}
	code := exitOK
	var out reportJSON
	var text []string
	if o.record == "" && !o.blank && !o.tag {
		var err error
		if o.record, err = e.lastRecord(o.job); err != nil {
			return exitOf(err), err
		}
	}
	if o.record == "" {
		p, err := e.firstPlan(o)
		if err != nil {
			return exitOf(err), err
		}
		if o.blank {
			s := report.MakeSheet(p)
			out.Blank, text = &s, append(text, s.Text())
		}
		if o.tag {
			t := report.MakeTag(p)
			out.Tag, text = &t, append(text, t.Text())
		}
	} else {
		r, err := e.readRecord(o.job, o.record)
		if err != nil {
			return exitOf(err), err
		}
		r.odd(e)
		f, err := r.pick(o.setup)
		if err != nil {
			return exitUsage, err
		}
		code = f.standing()
		rec := report.Make(&f.state, report.About{Part: partOf(o.record), Record: o.record, Version: version()})
		t := report.MakeTag(f.state.Plan())
		switch {
		case o.blank:
			s := report.MakeSheet(f.state.Plan())
			out.Blank, text = &s, append(text, s.Text())
		case o.tag:
			out.Tag, text = &t, append(text, t.Text())
		default:
			out.Record, out.Tag, text = &rec, &t, append(text, rec.Text(), t.Text())
		}
	}
	if o.format == "json" {
		e.json(out)
	} else {
		fmt.Fprint(e.out, strings.Join(text, "\n"))
	}
	return code, nil
}

// firstPlan is the plan of the setup asked for, else of the first that can be walked.
func (e *env) firstPlan(o reportOptions) (*steps.Plan, error) {
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

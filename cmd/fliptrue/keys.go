package main

import (
	"fmt"
	"slices"
	"strings"

	"fliptrue/jobs"

	"github.com/spf13/cobra"
)

type keysOptions struct {
	about    string // a file, a kind of setup, a key or a part of one; "" for a list of all
	markdown bool
	schema   string
}

func keysCommand(r *runner) *cobra.Command {
	var o keysOptions
	about := append(slices.Clone(jobs.Files), jobs.SetupKinds()...)
	c := &cobra.Command{
		Use: "keys [KIND|KEY]", Short: "Explain the keys of job, machine card, fixture card and record",
		Long: "Lists all keys, or explains those of a file (" + strings.Join(jobs.Files, ", ") + "), of a kind of setup\n(" + strings.Join(
			jobs.SetupKinds(), ", ") +
			"), or one key: fliptrue keys screws.length. NAME and N stand\nfor a name and a number of your own. Made from the table that the " +
			"files " +
			"are read by.",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 1 {
				return &usageError{quoted(args[1]) + " is more than " + c.CommandPath() + " takes", "see " + c.CommandPath() + " --help"}
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				o.about = args[0]
			}
			return r.do(keys(r.env, o))
		},
		ValidArgs: about,
	}
	c.Flags().BoolVar(&o.markdown, "markdown", false, "print the whole reference as a Markdown page")
	c.Flags().StringVar(&o.schema, "schema", "", "print a JSON Schema for editors: job, machine or fixture")
	_ = c.RegisterFlagCompletionFunc("schema", words(schemaFiles...))
	return c
}

// schemaFiles are the files that an editor may check while one types.
var schemaFiles = jobs.Files[:3]

func keys(e *env, o keysOptions) (exit, error) {
	switch {
	case o.schema != "":
		if !slices.Contains(schemaFiles, o.schema) {
			return exitUsage, &usageError{"schema of " + quoted(o.schema) + " is not known", "there is one of: " + strings.Join(schemaFiles, ", ")}
		}
		fmt.Fprintf(e.out, "%s", jobs.Schema(o.schema))
		return exitOK, nil
	case o.markdown:
		fmt.Fprint(e.out, keysPage())
		return exitOK, nil
	case o.about == "":
		fmt.Fprint(e.out, keysList(jobs.Keys()))
		return exitOK, nil
	}
	found := keysAbout(o.about)
	if len(found) == 0 {
		hint := "fliptrue keys lists all"
		if near := nearKeys(o.about); len(near) > 0 {
			hint = "nearest: " + strings.Join(near, ", ")
		}
		return exitUsage, &usageError{"there is no key " + quoted(o.about), hint}
	}
	for i, k := range found {
		if i > 0 {
			fmt.Fprintln(e.out)
		}
		fmt.Fprint(e.out, keyText(k))
	}
	return exitOK, nil
}

// keysAbout are the keys of a file, of a kind of setup, or those that a person may mean by a
// key, written in full, by its end, or as a fault names it.
func keysAbout(about string) []jobs.Key {
	about = strings.ToLower(strings.TrimSuffix(about, ":"))
	of := func(is func(jobs.Key) bool) []jobs.Key {
		return slices.DeleteFunc(jobs.Keys(), func(k jobs.Key) bool { return !is(k) })
	}
	if slices.Contains(jobs.SetupKinds(), about) {
		return of(func(k jobs.Key) bool { // a kind may be called as a file is: both are meant
			return k.File == about || strings.HasPrefix(k.Path, "setups.NAME.") && (k.Kinds == nil || slices.Contains(k.Kinds, about))
		})
	}
	// A file may be named as one of the keys is: both are meant.
	file, rest := "", strings.Split(about, ".")
	if len(rest) > 1 && slices.Contains(jobs.Files, rest[0]) {
		file, rest = rest[0], rest[1:]
	}
	found := of(func(k jobs.Key) bool { return (file == "" || k.File == file) && ends(strings.Split(k.Path, "."), rest) })
	if len(rest) == 1 && slices.Contains(jobs.Files, about) {
		found = of(func(k jobs.Key) bool { return k.File == about })
	}
	return found
}

// ends reports whether a path ends as a person wrote it; where it has a name of the person's
// own, any does, and a number of a list may follow.
func ends(path, said []string) bool {
	for len(said) > 1 && strings.HasPrefix(said[len(said)-1], "#") {
		said = said[:len(said)-1]
	}
	if len(said) > len(path) {
		return false
	}
	for i, part := range path[len(path)-len(said):] {
		if part != said[i] && part != "NAME" && part != "N" {
			return false
		}
	}
	return true
}

// nearKeys are known words near a mistyped one.
func nearKeys(word string) []string {
	last := word[strings.LastIndexByte(word, '.')+1:]
	var known []string
	for _, k := range jobs.Keys() {
		known = append(known, k.Path[strings.LastIndexByte(k.Path, '.')+1:])
	}
	known = append(append(known, jobs.Files...), jobs.SetupKinds()...)
	if n := jobs.Nearest(last, known); n != "" {
		return []string{n}
	}
	return nil
}

// keysList is one line a key.
func keysList(all []jobs.Key) string {
	var b strings.Builder
	w, file := 0, ""
	for _, k := range all {
		w = max(w, len(k.Path))
	}
	for _, k := range all {
		if k.File != file {
			if file != "" {
				b.WriteString("\n")
			}
			file = k.File
			fmt.Fprintf(&b, "%s\n", fileTitle[file])
		}
		need := ""
		switch k.Need {
		case "":
		case "always":
			need = "  needed"
			if up := strings.LastIndexByte(k.Path, '.'); up > 0 {
				need = "  needed in it"
			}
		default:
			need = "  needed " + k.Need
		}
		fmt.Fprintf(&b, "  %-*s  %s%s\n", w, k.Path, k.Takes, need)
	}
	b.WriteString("\nfliptrue keys KEY explains one, fliptrue keys KIND those of a file or of a kind of setup:\n" + strings.Join(
		append(slices.Clone(jobs.Files), jobs.SetupKinds()...), ", ") + "\n")
	return b.String()
}

var fileTitle = map[string]string{
	"job":     "job file, NAME.job.yaml",
	"machine": "machine card, NAME.machine.yaml",
	"fixture": "fixture card, NAME.fixture.yaml",
	"record":  "record, NAME.N.record.yaml: one event a line, --- {at: ..., KEY: ...}",
}

// keyText is all that is known of one key.
func keyText(k jobs.Key) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n  %s\n", k.File, k.Path, k.Means)
	line := func(what, text string) {
		if text != "" {
			fmt.Fprintf(&b, "  %-10s %s\n", what, text)
		}
	}
	line("takes", k.Takes)
	line("bare", bareText(k))
	line("sign", k.Sign)
	if k.Sign != "" {
		line("", "fliptrue help signs draws it")
	}
	line("bounds", k.Bounds)
	line("left out", bothUnits(k.Default))
	line("needed", k.Need)
	line("goes with", k.Only)
	if k.Group {
		line("holds", strings.Join(keysIn(k), ", "))
	}
	if k.Example != "" {
		line("example", k.Path[strings.LastIndexByte(k.Path, '.')+1:]+": "+k.Example)
	}
	return b.String()
}

// keysIn are the keys that a group holds, without those deeper in.
func keysIn(k jobs.Key) (in []string) {
	for _, q := range jobs.Keys() {
		rest, ok := strings.CutPrefix(q.Path, k.Path+".")
		if rest = strings.TrimPrefix(strings.TrimPrefix(rest, "NAME."), "N."); ok && q.File == k.File && !strings.Contains(rest, ".") {
			in = append(in, rest)
		}
	}
	return in
}

// bareText says in which unit a number without one is.
func bareText(k jobs.Key) string {
	switch {
	case k.Unit[0] == "":
		return ""
	case k.Unit[0] == k.Unit[1]:
		return "a number without a unit counts " + k.Unit[0]
	}
	other := k.Unit[1]
	if other == "in" {
		other = "inches"
	}
	return "a number without a unit counts " + k.Unit[0] + ", " + other + " in a file with unit: in"
}

func bothUnits(d [2]string) string {
	if d[0] == d[1] {
		return d[0]
	}
	return d[0] + ", in inch files " + d[1]
}

// keysPage is the reference page: a table for each file, in jobs with a mark of the kinds.
func keysPage() string {
	var b strings.Builder
	b.WriteString("# Keys\n\nEvery key of the four files, made by `fliptrue keys --markdown` from the table that the files are read by.\n" +
		"`NAME` and `N` stand for a name and a number of your own. A bare number is in the unit of its file; any value may\n" +
		"carry its own, as `3/64in`, `1.2mm`, `140in-oz`, `20C`. X+ is to your right, Y+ away from you, Z+ up, always the tool over the part.\n")
	file := ""
	cell := func(s string) string { return strings.ReplaceAll(s, "|", "\\|") }
	for _, k := range jobs.Keys() {
		if k.File != file {
			file = k.File
			fmt.Fprintf(&b, "\n## %s\n\n| key | meaning | takes | bare number | bounds | left out | needed | sign | example "+
				"|\n|---|---|---|---|---|---|---|---|---|\n", fileTitle[file])
		}
		unit := k.Unit[0]
		if k.Unit[0] != k.Unit[1] {
			unit += " / " + k.Unit[1]
		}
		need := k.Need
		if k.Only != "" && !strings.Contains(need, k.Only) {
			need = strings.TrimPrefix(need+"; only with "+k.Only, "; ")
		}
		eg := ""
		if k.Example != "" {
			eg = "`" + cell(k.Example) + "`"
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s | %s | %s | %s | %s |\n", k.Path, cell(k.Means), cell(k.Takes), unit, k.Bounds,
			bothUnits(k.Default), need, cell(k.Sign), eg)
	}
	return b.String()
}

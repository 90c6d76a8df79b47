package main

import (
	"fliptrue/jobs"
	"fliptrue/steps/bench"

	"github.com/spf13/cobra"
)

// completer gives the words that a shell may complete.
type completer = func(c *cobra.Command, args []string, toComplete string) ([]string, cobra.ShellCompDirective)

// words completes one of a few words.
func words(list ...string) completer {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return list, cobra.ShellCompDirectiveNoFileComp
	}
}

// files completes file names with these endings, one for each argument; after the last
// there are no more.
func files(endings ...string) completer {
	return func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		switch {
		case len(args) >= len(endings):
			return nil, cobra.ShellCompDirectiveNoFileComp
		case endings[len(args)] == "":
			return nil, cobra.ShellCompDirectiveDefault
		}
		return []string{endings[len(args)]}, cobra.ShellCompDirectiveFilterFileExt
	}
}

// setups completes the setups of the job that is named first.
func setups(r *runner) completer {
	return func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(args) == 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		j, _ := jobs.ReadJob(r.disk, args[0])
		return setupNames(j), cobra.ShellCompDirectiveNoFileComp
	}
}

const (
	jobEnding    = "job.yaml"
	recordEnding = "record.yaml"
)

// completing tells the shells what may stand where; each command says what it takes, and
// here only which words and files those are.
func completing(root *cobra.Command, r *runner) {
	arguments := map[string]completer{
		"open": files(jobEnding), "replay": files(jobEnding, recordEnding), "report": files(jobEnding, recordEnding),
		"program": files(jobEnding, ""), "check": many("yaml"), "new": files(), "practice": files(),
	}
	options := map[string]completer{
		"setup": setups(r), "hold-down": words("T", "M", "S"), "mistake": words(append(bench.MistakeNames(), "none")...),
		"colour": words("full", "16", "none", "plain"), "unit": words("mm", "in"), "format": words(reportFormats...),
		"preset": words(presetNames()...), "flip": words("x", "y"), "z0": words("floor", "finished top", "top skin"),
		"finds": words("probe", "dial", "edge finder", "pin", "paper"), "probe": words("yes", "no"),
		"from": files(jobEnding), "record": files(recordEnding),
	}
	for _, c := range root.Commands() {
		if f := arguments[c.Name()]; f != nil && c.ValidArgsFunction == nil {
			c.ValidArgsFunction = f
		}
		for name, f := range options {
			if c.Flags().Lookup(name) != nil {
				_ = c.RegisterFlagCompletionFunc(name, f) // it has one already: that one
			}
		}
	}
}

// many completes any number of files with one ending.
func many(ending string) completer {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return []string{ending}, cobra.ShellCompDirectiveFilterFileExt
	}
}

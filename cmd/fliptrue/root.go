package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"
)

// commands make the sub commands.
func commands() []func(*runner) *cobra.Command {
	return []func(*runner) *cobra.Command{
		batchCommand, calcCommand, checkCommand, correctionsCommand, editCommand, fitCommand, keysCommand,
		newCommand, openCommand, planCommand, pocketCommand, practiceCommand, programCommand, replayCommand,
		reportCommand, signsCommand,
	}
}

// runner holds what one command line came to.
type runner struct {
	*env
	code   exit
	err    error
	ran    bool
	asJSON bool
}

// do is the end of every command: the code it returned or the error's, the larger.
func (r *runner) do(code exit, err error) error {
	r.code, r.err, r.ran = max(code, exitOf(err)), err, true
	return nil
}

// run follows a command line and returns the exit code.
func run(world *env, args []string) exit {
	mine := *world
	out := &output{w: mine.out}
	mine.out, mine.err = out, &output{w: mine.err}
	e := &mine
	r := &runner{env: e}
	root := rootCommand(r)
	root.SetArgs(args)
	if err := r.follow(root.Execute); err != nil && !r.ran {
		var u *usageError
		if !errors.As(err, &u) {
			// cobra's own words: unknown command, wrong number of arguments
			err = &usageError{strings.TrimSuffix(strings.SplitN(err.Error(), "\n", 2)[0], "."), "see fliptrue --help"}
		}
		r.code, r.err = exitUsage, err
		r.asJSON = jsonWanted(args)
	}
	if r.err != nil && !errors.Is(r.err, errInterrupted) && !errors.Is(r.err, errLeft) {
		e.say(r.err, r.asJSON)
	}
	if err := out.failed(); err != nil {
		e.say(err, false)
		r.code = max(r.code, exitDisk)
	}
	return r.code
}

// jsonWanted reports whether a command line that could not be followed asked for JSON.
func jsonWanted(args []string) bool {
	for i, a := range args {
		if a == "--json" || a == "--format=json" || a == "--format" && i+1 < len(args) && args[i+1] == "json" {
			return true
		}
	}
	return false
}

func rootCommand(r *runner) *cobra.Command {
	var o listOptions
	root := &cobra.Command{
		Use:   "fliptrue",
		Short: "Stands beside a mill and walks a setup: side 2 true to side 1",
		Long: "fliptrue stands beside a 3-axis mill and walks one person through one setup at a time,\n" +
			"takes the readings, does the arithmetic and says whether it is safe to go on.\n" +
			"It neither sees, moves nor stops the machine.\n\n" +
			"Without a command it lists the jobs in this folder and where each setup stands.",
		SilenceErrors: true, SilenceUsage: true,
		Args: noArgs, Version: versionLine(),
	}
	manDir := root.Flags().String("man", "", "write a manual page of each command into this folder")
	root.RunE = func(*cobra.Command, []string) error {
		if *manDir != "" {
			return r.do(manual(r.env, root, *manDir))
		}
		return r.do(list(r.env, o))
	}
	root.SetVersionTemplate("fliptrue {{.Version}}\n")
	root.Flags().BoolVar(&o.asJSON, "json", false, "print JSON")
	root.Flags().BoolVar(&o.text, "text", false, "print the list instead of showing it")
	o.look.flags(root.Flags())
	root.PersistentPreRun = func(c *cobra.Command, _ []string) {
		if f := c.Flags().Lookup("json"); f != nil && f.Value.String() == "true" {
			r.asJSON = true
		}
		if f := c.Flags().Lookup("format"); f != nil && f.Value.String() == "json" {
			r.asJSON = true
		}
	}
	root.SetOut(r.out)
	root.SetErr(r.env.err)
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return &usageError{err.Error(), "see " + c.CommandPath() + " --help"}
	})
	for _, make := range commands() {
		root.AddCommand(make(r))
	}
	completing(root, r)
	return root
}

func noArgs(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	hint := "see fliptrue --help"
	if near := c.SuggestionsFor(args[0]); len(near) > 0 {
		hint = "nearest: " + strings.Join(near, ", ")
	}
	return &usageError{"unknown command " + quoted(args[0]), hint}
}

// argsNamed wants exactly the named arguments.
func argsNamed(names ...string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) == len(names) {
			return nil
		}
		hint := "see " + c.CommandPath() + " --help"
		if len(args) < len(names) {
			return &usageError{c.CommandPath() + " wants " + strings.Join(names, " and ") + ": " + names[len(args)] + " is missing", hint}
		}
		return &usageError{quoted(args[len(names)]) + " is more than " + c.CommandPath() + " takes", hint}
	}
}

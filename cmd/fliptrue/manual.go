package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"fliptrue/jobs"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// manual writes a manual page of each command into a folder.
func manual(e *env, root *cobra.Command, dir string) (exit, error) {
	if err := e.disk.MakeDir(dir); err != nil {
		return exitDisk, &jobs.DiskError{Op: "make", Path: dir, What: "the folder cannot be made: " + plainError(err), Hint: "choose another",
			Err: err}
	}
	when := e.now().UTC().Truncate(24 * time.Hour)
	var write func(c *cobra.Command) error
	write = func(c *cobra.Command) error {
		if c.IsAvailableCommand() || c == root {
			path := filepath.Join(dir, dashed(c)+".1")
			if err := jobs.WriteFile(e.disk, path, []byte(manPage(c, when))); err != nil {
				return err
			}
			fmt.Fprintln(e.out, "wrote "+path)
		}
		for _, in := range c.Commands() {
			if err := write(in); err != nil {
				return err
			}
		}
		return nil
	}
	err := write(root)
	return exitOf(err), err
}

func dashed(c *cobra.Command) string { return strings.ReplaceAll(c.CommandPath(), " ", "-") }

// manWriter writes man macros.
type manWriter struct{ strings.Builder }

// macro writes one macro with its arguments.
func (b *manWriter) macro(name string, args ...string) {
	b.WriteString("." + name)
	for _, a := range args {
		b.WriteString(` "` + strings.ReplaceAll(roff(a), `"`, `\(dq`) + `"`)
	}
	b.WriteByte('\n')
}

// options are flags under a title, nothing without any.
func (b *manWriter) options(title string, fs *pflag.FlagSet) {
	if !fs.HasAvailableFlags() {
		return
	}
	b.macro("SH", title)
	fs.VisitAll(func(f *pflag.Flag) {
		if f.Hidden || f.Deprecated != "" {
			return
		}
		name, usage := pflag.UnquoteUsage(f)
		head := "--" + f.Name
		if f.Shorthand != "" {
			head = "-" + f.Shorthand + ", " + head
		}
		if name != "" {
			head += " " + name
		}
		b.macro("TP")
		b.macro("B", head)
		b.WriteString(roff(usage))
		if d := f.DefValue; d != "" && d != "false" && d != "[]" && d != "0" {
			b.WriteString(" (default " + roff(d) + ")")
		}
		b.WriteByte('\n')
	})
}

// manPage is a command in the man macros of roff. It is written here and not by the command
// library's own generator, whose Markdown reader costs every start of the program.
func manPage(c *cobra.Command, when time.Time) string {
	c.InitDefaultHelpFlag()
	var b manWriter
	b.WriteString(".nh\n")
	b.macro("TH", strings.ToUpper(dashed(c)), "1", when.Format("2006-01-02"), "fliptrue "+version(), "fliptrue")
	b.macro("SH", "NAME")
	b.WriteString(roff(dashed(c)) + ` \- ` + roff(c.Short) + "\n")
	b.macro("SH", "SYNOPSIS")
	b.macro("B", c.UseLine())
	b.macro("SH", "DESCRIPTION")
	b.WriteString(verbatim(strings.TrimSpace(c.Long+"\n"), c.Short))
	b.options("OPTIONS", c.NonInheritedFlags())
	b.options("OPTIONS OF ALL COMMANDS", c.InheritedFlags())
	if c.Example != "" {
		b.macro("SH", "EXAMPLE")
		b.WriteString(verbatim(c.Example, ""))
	}
	var also []string
	if c.HasParent() {
		also = append(also, dashed(c.Parent())+"(1)")
	}
	for _, in := range c.Commands() {
		if in.IsAvailableCommand() && !in.IsAdditionalHelpTopicCommand() {
			also = append(also, dashed(in)+"(1)")
		}
	}
	if len(also) > 0 {
		b.macro("SH", "SEE ALSO")
		b.WriteString(roff(strings.Join(also, ", ")) + "\n")
	}
	return b.String()
}

// verbatim keeps the lines of a text, or of the other where it is empty.
func verbatim(text, other string) string {
	if text == "" {
		text = other
	}
	return ".nf\n" + roff(text) + "\n.fi\n"
}

// roff is a text of which roff takes nothing for its own: a backslash and a minus are escaped, and
// a dot or apostrophe that begins a line gets a zero-width character before it (groff_char(7),
// groff(7); from memory).
func roff(s string) string {
	ls := strings.Split(strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(s), "\n")
	for i, l := range ls {
		if strings.HasPrefix(l, ".") || strings.HasPrefix(l, "'") {
			ls[i] = `\&` + l
		}
	}
	return strings.Join(ls, "\n")
}

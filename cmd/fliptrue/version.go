package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

// version is the commit that this program was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return ""
	}
	var rev, dirty string
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			rev = s.Value[:min(12, len(s.Value))]
		case "vcs.modified":
			if s.Value == "true" {
				dirty = " with changes"
			}
		}
	}
	if rev == "" {
		return info.Main.Version
	}
	return rev + dirty
}

// versionLine says which program this is, and which walk it asks.
func versionLine() string {
	v := version()
	if v == "" || v == "(devel)" {
		v = "commit not known"
	}
	return fmt.Sprintf("%s, walk %d, format 1, %s %s/%s", v, steps.Walk, runtime.Version(), runtime.GOOS, runtime.GOARCH)
}

// manual writes a manual page of each command into a folder.
func manual(e *env, root *cobra.Command, dir string) (exit, error) {
	if err := e.disk.MakeDir(dir); err != nil {
		return exitDisk, &jobs.DiskError{Op: "make", Path: dir, What: "the folder cannot be made: " + plainError(err), Hint: "choose another", Err: err}
	}
	when := e.now().UTC().Truncate(24 * time.Hour)
	root.DisableAutoGenTag = true
	var write func(c *cobra.Command) error
	write = func(c *cobra.Command) error {
		if c.IsAvailableCommand() || c == root {
			var b bytes.Buffer
			c.DisableAutoGenTag = true
			if err := doc.GenMan(c, &doc.GenManHeader{Section: "1", Source: "fliptrue " + version(), Manual: "fliptrue", Date: &when}, &b); err != nil {
				return err
			}
			path := filepath.Join(dir, strings.ReplaceAll(c.CommandPath(), " ", "-")+".1")
			if err := jobs.WriteFile(e.disk, path, b.Bytes()); err != nil {
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

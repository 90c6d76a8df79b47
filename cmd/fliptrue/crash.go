package main

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"strings"

	"fliptrue/jobs"
	"fliptrue/tui"
)

// crashed writes where the program broke into STEM.crash.log, or the first STEM.crash-N.log
// that is free, and says so in one line: a stack means nothing to the person at the machine.
func (e *env) crashed(stem string, c *tui.CrashError) error {
	text := fmt.Sprintf("%s\n%s\n\n%s", e.now().Format("2006-01-02 15:04:05 -0700"), c.Error(), c.Stack)
	for n := 1; ; n++ {
		path := stem + ".crash.log"
		if n > 1 {
			path = stem + ".crash-" + strconv.Itoa(n) + ".log"
		}
		err := jobs.WriteFile(e.disk, path, []byte(text))
		switch {
		case err == nil:
			return &terminalError{c.Error(), "what was taken is on the disk, open it again; where it broke is written in " + path +
				", for whoever mends it"}
		case !errors.Is(err, fs.ErrExist):
			return &terminalError{c.Error(), "what was taken is on the disk, open it again; where it broke could not be written down: " +
				faultsOf(err)[0].What}
		}
	}
}

// stemOf is the path of a record or job without its last two endings: lid.1 of lid.1.record.yaml.
func stemOf(path string) string {
	stem := strings.TrimSuffix(path, filepath.Ext(path))
	return strings.TrimSuffix(stem, filepath.Ext(stem))
}

// follow runs a command line. A panic in it is an error of the last resort.
func (r *runner) follow(command func() error) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = r.do(exitOK, r.crashed("fliptrue", &tui.CrashError{What: fmt.Sprint(p), Stack: debug.Stack()}))
		}
	}()
	return command()
}

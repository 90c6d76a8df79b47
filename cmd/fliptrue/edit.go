package main

import (
	"bufio"
	"bytes"
	"cmp"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"runtime"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps"

	"github.com/spf13/cobra"
)

func editCommand(r *runner) *cobra.Command {
	return &cobra.Command{
		Use: "edit JOB|CARD", Short: "Edit a job or a card, and see what that costs before it counts",
		Long: "Opens the file in the editor that VISUAL or EDITOR names, then checks it and says which readings\nof the last part it would " +
			"cost. It can be edited again or taken back. Nothing is written to a record.",
		Args: argsNamed("JOB"), ValidArgsFunction: files("yaml"),
		RunE: func(_ *cobra.Command, args []string) error { return r.do(edit(r.env, args[0])) },
	}
}

// ownEditor runs the person's editor on a file. VISUAL and EDITOR may hold options, so on
// unix a shell takes them apart, as it does for other programs that ask for an editor.
func ownEditor(path string) error {
	editor := cmp.Or(os.Getenv("VISUAL"), os.Getenv("EDITOR"))
	if editor == "" {
		return &usageError{"no editor is named", "set VISUAL or EDITOR to the one you use, or edit " + path + " yourself and run fliptrue check"}
	}
	c := exec.Command("sh", "-c", editor+` "$1"`, "sh", path)
	if runtime.GOOS == "windows" {
		words := append(strings.Fields(editor), path)
		c = exec.Command(words[0], words[1:]...)
	}
	c.Stdin, c.Stdout, c.Stderr = os.Stdin, os.Stdout, os.Stderr
	if err := c.Run(); err != nil {
		return &terminalError{"the editor " + quoted(editor) + " ended with an error: " + err.Error(),
			"look at what VISUAL and EDITOR name; the file is as the editor left it"}
	}
	return nil
}

// edit lets the person edit a file until it reads well or is taken back.
func edit(e *env, path string) (exit, error) {
	if !e.inTerminal || !e.outTerminal {
		return exitDisk, &terminalError{"an editor wants a terminal", "edit " + path + " yourself and run fliptrue check"}
	}
	old, err := e.disk.Read(path, maxProgram)
	if err != nil {
		return exitInput, &inputError{path, "it cannot be read: " + plainError(err), "name a job or a card that is there"}
	}
	in := bufio.NewReader(e.in)
	for {
		before := e.standing(path)
		if err := e.editor(path); err != nil {
			return exitOf(err), err
		}
		now, err := e.disk.Read(path, maxProgram)
		if err != nil {
			return exitInput, &inputError{path, "it cannot be read after the edit: " + plainError(err), "put it back"}
		}
		if bytes.Equal(old, now) {
			fmt.Fprintln(e.out, "nothing was changed")
			return exitOK, nil
		}
		faults := e.faultsIn(path)
		for _, f := range faults {
			fmt.Fprintln(e.out, f.Error())
		}
		keep := "leaves it with its faults"
		if len(faults) == 0 {
			keep = "keeps it"
			fmt.Fprint(e.out, e.costs(before, path))
		}
		fmt.Fprintf(e.out, "Enter %s, 1 edits it again, 2 takes it back: ", keep)
		line, err := e.line(in)
		if err != nil {
			return exitInterrupted, err
		}
		switch line {
		case "":
			if len(faults) > 0 {
				return exitInput, nil
			}
			err := e.askReasons(in, path)
			return exitOf(err), err
		case "2":
			if err := jobs.Rewrite(e.disk, path, old); err != nil {
				return exitDisk, err
			}
			fmt.Fprintln(e.out, "taken back: "+path+" is as it was")
			return exitOK, nil
		}
	}
}

func (e *env) faultsIn(path string) jobs.Faults {
	switch jobs.KindOf(e.disk, path) {
	case "machine", "fixture":
		_, _, _, faults := jobs.CheckCard(e.disk, path)
		return faults
	}
	j, faults := jobs.ReadJob(e.disk, path)
	return append(faults, unknownLimits(j)...)
}

// standing is the record of a job's last part as it stands; nothing for a card, and where
// there is none or it cannot be followed.
func (e *env) standing(path string) *record {
	list, err := jobs.Records(e.disk, path)
	if err != nil || len(list) == 0 || jobs.KindOf(e.disk, path) != "job" {
		return nil
	}
	r, err := e.readRecord(path, list[len(list)-1].Path)
	if err != nil {
		return nil
	}
	return &r
}

// costed is a step that an edit takes back.
type costed struct {
	setup, title string
	readings     int
}

// costs says which steps of the last part an edited job takes back, with their readings.
func (e *env) costs(before *record, path string) string {
	changed, gone, list, ok := e.costOf(before, path)
	switch {
	case !ok:
		return "it reads well\n"
	case len(changed) == 0:
		return "it reads well; nothing that counts was changed\n"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "changed: %s\n", strings.Join(changed, ", "))
	for _, name := range gone {
		fmt.Fprintf(&b, "setup %s is begun and would be gone: its record could not be gone on with\n", name)
	}
	total := 0
	for _, c := range list {
		total += c.readings
		fmt.Fprintf(&b, "  costs %s, %s: %s\n", c.setup, c.title, counted(c.readings, "reading"))
	}
	if total == 0 {
		return b.String() + "it costs no reading\n"
	}
	return b.String() + "together " + counted(total, "reading") + " of the part in hand\n"
}

// costNote is the same in one sentence, "" when it costs nothing.
func (e *env) costNote(before *record, path string) string {
	_, _, list, _ := e.costOf(before, path)
	total, titles := 0, []string{}
	for _, c := range list {
		total += c.readings
		titles = append(titles, c.title)
	}
	if total == 0 {
		return ""
	}
	const most = 3
	if n := len(titles) - most; n > 0 {
		titles = append(titles[:most], fmt.Sprintf("%d more", n))
	}
	return fmt.Sprintf("it costs %s (%s); to keep them leave now, before anything is taken, and put it back", counted(total, "reading"),
		strings.Join(titles, ", "))
}

// costOf compares the last part as the record began it with the job as it now lies there.
func (e *env) costOf(before *record, path string) (changed, gone []string, list []costed, ok bool) {
	if before == nil {
		return nil, nil, nil, false
	}
	j, faults := jobs.ReadJob(e.disk, path)
	old := flatOf(before.events)
	if len(faults) > 0 || old == nil {
		return nil, nil, nil, false
	}
	ev, differs := jobs.Replan(ofFiles(old), ofFiles(jobs.Flatten(j)))
	if !differs {
		return nil, nil, nil, true
	}
	ev.At = before.events[len(before.events)-1].At
	log := steps.NewLog()
	for _, x := range before.events {
		log.Apply(x)
	}
	log.Apply(ev)
	after, faults := jobs.FromFlat(jobs.Update(maps.Clone(old), ev))
	if len(faults) > 0 {
		return nil, nil, nil, false
	}
	after.Path = j.Path
	for _, f := range before.setups {
		p, err := e.plan(after, f.state.Setup)
		if err != nil {
			gone = append(gone, f.state.Setup)
			continue
		}
		st := log.State(p)
		for _, was := range f.state.Steps {
			if now, ok := st.Step(was.ID); was.Verdict.OK() && (!ok || !now.Verdict.OK()) && was.Round != nil {
				list = append(list, costed{f.state.Setup, was.Title, len(was.Round.Taken)})
			}
		}
	}
	return ev.Changed, gone, list, true
}

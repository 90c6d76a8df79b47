// Fliptrue stands beside a 3-axis mill and walks one person through one setup at a
// time: it takes the readings, does the arithmetic and says whether it is safe to go on.
//
// Each command lies in a file of its own: flags fill a plain options struct, and one
// function takes the options and the program's surroundings and returns an exit code.
// A new command is one file and its name in commands.
//
// Exit codes: 0 passed, released, or a screen left by choice; 1 the work says no or is
// unfinished; 2 usage; 3 an input is missing, faulty, of a newer format or degenerate;
// 4 disk or terminal failed, or another process holds the record; 130 interrupted.
//
// With --json a command prints one JSON object on standard output. An error is
//
//	{"error": {"file", "line", "column", "what", "hint"}, "more": [...]}
//
// with line and column counted from 1 and 0 where there is none; more holds the further
// faults of the same shape and is left out when there are none. The same is said in
// words on standard error.
//
// Non-goals: it neither sees, moves nor stops the machine.
package main

import (
	"os"
	"os/signal"
	"runtime/debug"

	"github.com/mattn/go-isatty"
)

func main() {
	if os.Getenv("GOGC") == "" { // it lives short or holds little: a tenth of the time to the first frame
		debug.SetGCPercent(400)
		debug.SetMemoryLimit(512 << 20)
	}
	interrupt := make(chan os.Signal, 1)
	signal.Notify(interrupt, os.Interrupt)
	go func() {
		<-interrupt
		// Nothing is lost: what was taken is on the disk already.
		os.Exit(int(exitInterrupted))
	}()
	e := surroundings()
	var end ending
	e.ownInterrupts = func() {
		signal.Stop(interrupt)
		end.watch(func() bool { return isatty.IsTerminal(os.Stdin.Fd()) && isatty.IsTerminal(os.Stdout.Fd()) })
	}
	os.Exit(int(max(run(e, os.Args[1:]), end.code())))
}

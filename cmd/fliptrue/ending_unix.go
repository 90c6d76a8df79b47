//go:build unix

package main

import (
	"os"
	"os/signal"
	"syscall"

	"golang.org/x/sys/unix"
)

// endSignals end a screen.
var endSignals = []os.Signal{syscall.SIGHUP, syscall.SIGQUIT, syscall.SIGTERM}

// ownSignal is one that the screen itself takes.
func ownSignal(s os.Signal) bool { return s == syscall.SIGTERM }

// terminate asks the screen to end and to put the terminal back.
func terminate() { _ = syscall.Kill(os.Getpid(), syscall.SIGTERM) }

// jobControl reports whether somebody could bring a stopped process back: a shell of this
// session that leads other processes than ours. A process that leads its session itself, as
// one that ssh -t starts or the first of a container, has none; a stop would be for ever.
func jobControl() bool {
	sid, err := unix.Getsid(0)
	return err == nil && sid != unix.Getpgrp() && !signal.Ignored(syscall.SIGTSTP)
}

//go:build !unix

package main

import "os"

// endSignals end a screen. A closed console window ends the process by itself.
var endSignals = []os.Signal{os.Interrupt}

func ownSignal(os.Signal) bool { return true }

// terminate has no signal to ask with; the wait after it ends the process.
func terminate() {}

// jobControl is not known here.
func jobControl() bool { return false }

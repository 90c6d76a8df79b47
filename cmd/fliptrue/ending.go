package main

import (
	"os"
	"os/signal"
	"sync"
	"sync/atomic"
	"time"
)

// ending is how a screen is ended from outside: by a signal, or because its terminal is
// gone. Bubble Tea puts the terminal back on an interrupt and on SIGTERM only, and waits
// for ever for keys of a terminal that hung up; so everything else is turned into SIGTERM.
type ending struct {
	once sync.Once
	why  atomic.Int32 // the exit code it stands for
}

// Nothing is lost by leaving: what was taken is on the disk. The patience is for the disk
// to finish a write; nobody sees the screen of a lost terminal any more.
const (
	lookEvery    = 200 * time.Millisecond
	signalWait   = 5 * time.Second
	lostWait     = 600 * time.Millisecond
	lostTwice    = 2 // looks in a row: a terminal that is handed over may not answer once
	signalBuffer = 4
)

// watch begins to look out; later calls do nothing. there reports whether the terminal is. One that
// is not there at the beginning can't be lost: then only signals end the program.
func (d *ending) watch(there func() bool) {
	d.once.Do(func() {
		if !there() {
			there = func() bool { return true }
		}
		sig := make(chan os.Signal, signalBuffer)
		signal.Notify(sig, endSignals...)
		go d.wait(sig, there, terminate, os.Exit)
	})
}

func (d *ending) wait(sig <-chan os.Signal, there func() bool, terminate func(), exit func(int)) {
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	patience := signalWait
	for missing := 0; d.why.Load() == 0; {
		select {
		case s := <-sig:
			d.why.Store(int32(exitInterrupted))
			if !ownSignal(s) {
				terminate()
			}
		case <-tick.C:
			if missing++; there() {
				missing = 0
			}
			if missing == lostTwice {
				d.why.Store(int32(exitDisk))
				patience = lostWait
				terminate()
			}
		}
	}
	time.Sleep(patience)
	exit(int(d.why.Load()))
}

// code is the exit code that the ending asks for, 0 when it was left by choice.
func (d *ending) code() exit { return exit(d.why.Load()) }

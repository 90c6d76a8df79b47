package main

import (
	"os"
	"runtime/debug"
	"testing"
)

func TestMain(m *testing.M) {
	debug.SetGCPercent(1200) // a test is short: memory is cheaper than time
	os.Exit(m.Run())
}

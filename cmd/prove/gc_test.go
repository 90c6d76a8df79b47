package main

import "runtime/debug"

func init() { debug.SetGCPercent(400) } // a test is short: memory is cheaper than time

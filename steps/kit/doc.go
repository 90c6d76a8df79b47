// Package kit is parts of steps by instrument: what finds a place by a probe, an edge finder, a dial or a pin, what reads an edge,
// where places are and how they are drawn. One file an instrument.
package kit

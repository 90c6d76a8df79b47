// Package side2 is the second side: the turned part in its fixture, located by a bore and an edge, held, proven and released.
package side2

// Package dowel is the setup in which the turned part lies on two pins of its fixture by two holes that side 1
// reamed: one pin round, the other round as well or a diamond across their line.
package dowel

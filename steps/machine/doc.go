// Package machine is the setups in which ball and spindle are proven, no part on the table.
package machine

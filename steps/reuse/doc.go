// Package reuse is the setup in which a fixture comes out of its box for another season: what of it has grown with heat and damp, what
// has worn, what its threads still bear, and whether it is used, rested or cut anew.
package reuse

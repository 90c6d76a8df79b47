// Package jaws is a second side in a nest that is cut into soft jaws where they stay: cut loaded, found by its walls, the
// part measured where it is gripped, closed twice to one mark with dials on it.
package jaws

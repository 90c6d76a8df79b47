// Package steps is the list of all kinds of setup, and the door through which plans and logs are
// made. The engine is fold; each kind of setup is a room of its own.
package steps

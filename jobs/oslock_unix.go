//go:build unix

package jobs

import "syscall"

// asItStands opens a file without following a link at its place or waiting for a pipe.
const asItStands = syscall.O_NOFOLLOW | syscall.O_NONBLOCK

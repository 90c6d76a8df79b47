package jobs

import (
	"slices"
)

// WriteReason puts beside a limit of a job why it has its value, in the file as it lies there:
// only the bytes of that limit change. The error is Faults when the job does not read well, has
// no such limit, or would not read well afterwards; *DiskError when it cannot be written.
func WriteReason(d Disk, path, limit, reason string) error {
	data, faults := slurp(d, path, "put the job back")
	if len(faults) > 0 {
		return faults
	}
	at := []string{"limits", limit}
	root, faults := parseTree(path, data)
	if len(faults) > 0 {
		return faults
	}
	n := root
	for _, part := range at {
		if n = child(n, part); n == nil {
			return cannotWrite(path, at, "it is not there")
		}
	}
	next := data
	if n.Kind == mappingNode {
		var err error
		if next, err = setValue(path, data, append(at, "reason"), reason); err != nil {
			return err
		}
	} else {
		start, length, err := token(path, data, at, n)
		if err != nil {
			return err
		}
		both := "{value: " + string(data[start:start+length]) + ", reason: " + plainOrQuoted(reason) + "}"
		next = slices.Concat(data[:start], []byte(both), data[start+length:])
	}
	if _, faults := parseTree(path, next); len(faults) > 0 {
		return faults
	}
	return Rewrite(d, path, next)
}

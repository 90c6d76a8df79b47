package published

import (
	"fmt"
	"strings"
)

// Page is the whole table as Markdown, by source.
func Page() string {
	var b strings.Builder
	rows := Rows()
	fmt.Fprintf(&b, "# Printed numbers, and ours\n\nWritten by `go run ./cmd/prove published`. %d numbers. \"Copy read\": a public copy of "+
		"the source was read;\n"+
		"\"from memory\": recalled, the source was not seen. Digits: significant digits in which ours is the printed number, which itself\n"+
		"has no more than it shows. A row with a remark is off in its last digit, for the reason given.\n", len(rows))
	last := ""
	for _, r := range rows {
		if r.Source != last {
			last = r.Source
			fmt.Fprintf(&b, "\n## %s\n\n| what | printed | ours | digits | come by | remark |\n|---|---:|---:|---:|---|---|\n", r.Source)
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %.1f | %s | %s |\n", r.What, r.Printed, r.ours(), r.Digits(), r.Flag, r.Off)
	}
	return b.String()
}

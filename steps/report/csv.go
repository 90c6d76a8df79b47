package report

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
	"time"
)

// csvHead are the columns of CSV.
var csvHead = []string{"address", "value", "unit", "at", "place", "by", "label", "replaced"}

// CSV writes all readings of records, one a line, in the order of the walk: where each stands in the record, the value
// as typed, the unit of a bare number, the time (RFC 3339) and, where it has one, its place on the setup's plan ("X Y" in
// the unit of the job). What was typed there before stands behind, oldest first.
func CSV(w io.Writer, rs ...Record) error {
	out := csv.NewWriter(w)
	_ = out.Write(csvHead) // Flush tells
	for _, r := range rs {
		for _, x := range r.Readings {
			at := ""
			if x.At != nil {
				at = x.At.Format(time.RFC3339)
			}
			address := strings.Join([]string{r.Setup, x.Step, strconv.Itoa(x.Round), x.Field}, "/")
			_ = out.Write([]string{address, inert(x.Value), x.unit, at, x.place, inert(x.By), inert(x.label), inert(strings.Join(x.Replaced, "; "))})
		}
	}
	out.Flush()
	return out.Error()
}

// inert is a text that no table program takes for a formula: a number with its sign stays as it is.
func inert(s string) string {
	if s == "" || !strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return s
	}
	if strings.Trim(s, "+-.,0123456789") == "" {
		return s
	}
	return "'" + s
}

package jobs

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fliptrue/calc/sent"
	"fliptrue/calc/unit"
)

// Feed is one way on which readings arrive instead of being typed: a text file that grows, or
// a serial line. It changes nothing of what a reading means, so no record copies it.
type Feed struct {
	From    string   `key:"" rule:"name"`
	File    string   `key:"file" says:"A text file that grows by a line for each reading, as a control's probe log; its whole path, or from the card's folder." eg:"probe.log"`
	Port    string   `key:"port" says:"The serial line of the instrument's cable; instead of file. Opening it may restart a board that hangs on it: an instrument's, never that of a control." eg:"/dev/ttyUSB0"`
	Baud    int      `key:"baud" rule:"min 50; max 4000000; default 9600" says:"Speed of the serial line." eg:"9600"`
	Frame   string   `key:"frame" rule:"words 8N1|8N2|8E1|8O1|7N1|7N2|7E1|7E2|7O1|7O2; default 8N1" says:"Data bits, parity and stop bits of the serial line." eg:"7E2"`
	Unit    string   `key:"unit" rule:"words mm|in" says:"Unit of what arrives without one; left out: the card's." eg:"mm"`
	Columns []string `key:"columns" rule:"words x|y|z|value|-" says:"What each column of a line is: an axis, the value of an instrument with one, or - for what is passed over; left out: axis letters say it, or the number stands alone." eg:"[\"-\", x, y, z]"`
	Skip    string   `key:"skip" says:"What begins each line and is passed over." eg:"01A"`
	Keep    string   `key:"keep" rule:"words each|last; default each" says:"each: every line is a reading; last: the instrument sends all the time, and only its newest counts." eg:"last"`
}

// Form is how the lines are read.
func (f Feed) Form() sent.Form {
	return sent.Form{Skip: f.Skip, Columns: f.Columns, Unit: f.Unit}
}

// feeds checks the feeds of a machine card and fills in their unit.
func (r *reader) feeds(m *Machine) {
	for _, name := range slices.Sorted(maps.Keys(m.Feed)) {
		f, path := m.Feed[name], join("feed", name)
		switch {
		case f.File == "" && f.Port == "":
			r.fault(path, "neither a file nor a port that readings arrive on", "give file: or port:")
		case f.File != "" && f.Port != "":
			r.fault(path+".port", "a port beside a file", "give each its own feed, or leave one out")
		}
		if err := f.Form().Valid(); err != nil {
			what, hint, _ := strings.Cut(err.Error(), "; ")
			r.fault(path+".columns", what, hint)
		}
		axes := slices.ContainsFunc(f.Columns, func(c string) bool { return c == "x" || c == "y" || c == "z" })
		if name != "axes" && axes {
			r.fault(path+".columns", fmt.Sprintf("an axis in what a %s sends", name),
				"write value, and - for the others; the readout's columns go under feed.axes")
		}
		if f.Unit == "" {
			f.Unit = map[unit.System]string{unit.Metric: "mm", unit.Imperial: "in"}[m.Unit]
		}
		m.Feed[name] = f
	}
}

package outside

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// control runs the words that the programs of these shops use, and no others: RS-274 as NISTIR 6556 tells it, from memory.
type control struct {
	motion      string            // G0, G1
	modal       map[string]string // by group: plane, unit, distance, offset, length ...
	at          Vec               // in the work offset
	feed, speed float64
	tool        int
	turning     bool
}

// stood is how the control stood after a line was done.
type stood struct {
	line, repeat int // of the main program, from 1; of the subprogram's runs, 0 outside
	control
}

var groups = map[string]string{"G17": "plane", "G18": "plane", "G19": "plane", "G20": "unit", "G21": "unit", "G40": "radius",
	"G43": "length", "G49": "length", "G80": "cycle", "G90": "distance", "G91": "distance", "G94": "feed", "G54": "offset"}

var word = regexp.MustCompile(`([A-Z])([-+]?[0-9.]+)`)

// do is one line without subprograms.
func (c *control) do(line string) error {
	next := map[string]string{}
	for k, v := range c.modal {
		next[k] = v
	}
	c.modal = next // what was kept of it stays
	move := map[string]float64{}
	for _, m := range word.FindAllStringSubmatch(line, -1) {
		x, err := strconv.ParseFloat(m[2], 64)
		if err != nil {
			return err
		}
		switch w := m[1] + strings.TrimLeft(m[2], "0"); {
		case m[0] == "G0" || m[0] == "G1":
			c.motion = m[0]
		case groups[m[0]] != "":
			c.modal[groups[m[0]]] = m[0]
		case m[1] == "X" || m[1] == "Y" || m[1] == "Z":
			move[m[1]] = x
		case m[1] == "F":
			c.feed = x
		case m[1] == "S":
			c.speed = x
		case m[1] == "T":
			c.tool = int(x)
		case m[1] == "H":
			c.modal["h"] = m[0]
		case w == "M3":
			c.turning = true
		case w == "M5":
			c.turning = false
		case w == "M6" || w == "M30" || w == "M99":
		default:
			return fmt.Errorf("%s in %q: this control does not know it", m[0], line)
		}
	}
	for name, to := range map[string]*float64{"X": &c.at.X, "Y": &c.at.Y, "Z": &c.at.Z} {
		if x, ok := move[name]; ok {
			if c.modal["distance"] == "G91" {
				x += *to
			}
			*to = x
		}
	}
	return nil
}

// run is how the control stands after each line of a program.
func (c control) run(text string) ([]stood, error) {
	lines := strings.Split(text, "\n")
	sub := map[string]int{}
	for i, l := range lines {
		if strings.HasPrefix(l, "O") {
			sub[strings.Fields(l[1:])[0]] = i
		}
	}
	c.modal = map[string]string{}
	var out []stood
	for i, l := range lines {
		if strings.HasPrefix(l, "(") || strings.HasPrefix(l, "%") {
			continue
		}
		m := called.FindStringSubmatch(l)
		if m == nil {
			if err := c.do(l); err != nil {
				return nil, err
			}
			out = append(out, stood{i + 1, 0, c})
			if strings.HasPrefix(l, "M30") {
				return out, nil
			}
			continue
		}
		times, _ := strconv.Atoi(m[2])
		for n := range times {
			for k := sub[m[1]] + 1; lines[k] != "M99"; k++ {
				if err := c.do(lines[k]); err != nil {
					return nil, err
				}
				out = append(out, stood{i + 1, n + 1, c})
			}
		}
	}
	return out, nil
}

var called = regexp.MustCompile(`M98 P([0-9]+) L([0-9]+)`)

// before is how the control stood before a line of the main program, and the place of that line in the run.
func (c control) before(text string, line int) (stood, int, error) {
	ran, err := c.run(text)
	if err != nil {
		return stood{}, 0, err
	}
	for i, s := range ran {
		if s.line == line {
			if i == 0 {
				return stood{}, 0, fmt.Errorf("line %d is the first", line)
			}
			return ran[i-1], i, nil
		}
	}
	return stood{}, 0, fmt.Errorf("line %d is none that this program runs", line)
}

// restarts says what is wrong with typing these lines and beginning at that one after a stop at a place of the run, at a
// height from which the tool clears the work; nil where the cut goes on as if it had never stopped, and nothing is left out.
func restarts(text string, typed []string, line, stop int, clear float64) error {
	was, at, err := (control{}).before(text, line)
	if err != nil {
		return err
	}
	if at > stop {
		return fmt.Errorf("line %d is cut %d lines after the one where it stopped", line, at-stop)
	}
	c := control{modal: map[string]string{}}
	c.at.Z = was.at.Z // all up by hand, and the line itself brings it down
	for _, l := range typed {
		if err := c.do(l); err != nil {
			return err
		}
	}
	next := strings.Split(text, "\n")[line-1]
	a, b := was.control, c
	if err := a.do(next); err != nil {
		return err
	}
	if err := b.do(next); err != nil {
		return err
	}
	if a.at.Z < clear || was.at.Z < clear && !strings.Contains(next, "Z") {
		return fmt.Errorf("at line %d the tool stands at Z %g, below %g", line, a.at.Z, clear)
	}
	if fmt.Sprint(a) != fmt.Sprint(b) {
		return fmt.Errorf("after line %d the control stands otherwise than in a run from the top: %+v, %+v", line, b, a)
	}
	return nil
}

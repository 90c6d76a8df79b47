package paper

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"fliptrue/calc/unit"

	"golang.org/x/net/html"
)

// Said is what a page says in numbers, by their places in the JSON.
type Said struct {
	At    map[string]int // how often each place stands on it
	Wrong []string
}

// Numbers holds every number of a page against what replay --json printed: one that names its place has to be what
// stands there, printed as it says; one that names none has to be part of a text there, a time, or a whole number there.
func Numbers(page, printed []byte) (Said, error) {
	s := Said{At: map[string]int{}}
	var tree any
	if err := json.Unmarshal(printed, &tree); err != nil {
		return s, err
	}
	doc, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		return s, err
	}
	c := checker{said: &s, tree: tree, sys: unit.Metric}
	if u, _ := at(tree, "sheet.unit").(string); u == unit.UnitName(unit.KLength, unit.Imperial) {
		c.sys = unit.Imperial
	}
	c.gather(tree)
	c.walk(doc, "", "")
	return s, nil
}

// checker walks a page.
type checker struct {
	said  *Said
	tree  any
	sys   unit.System
	known map[string]bool // numerals of its texts and its whole numbers
}

// gather collects what may stand on a page without its place.
func (c *checker) gather(tree any) {
	c.known = map[string]bool{}
	text := func(s string) {
		for _, n := range numeral.FindAllString(s, -1) {
			c.known[strings.Trim(n, ".")] = true
		}
	}
	var walk func(any)
	walk = func(v any) {
		switch x := v.(type) {
		case string:
			text(x)
			if t, err := time.Parse(time.RFC3339, x); err == nil {
				text(t.Format("2006-01-02 15:04"))
			}
		case float64:
			if x == math.Trunc(x) {
				c.known[strconv.FormatFloat(math.Abs(x), 'f', -1, 64)] = true
			}
		case []any:
			c.known[strconv.Itoa(len(x))] = true // how many there are is a number of it, too
			for _, y := range x {
				walk(y)
			}
		case map[string]any:
			for k, y := range x {
				text(k)
				walk(y)
			}
		}
	}
	walk(tree)
	passed := 0
	steps, _ := at(tree, "sheet.steps").([]any)
	for i := range steps {
		switch at(tree, "sheet.steps."+strconv.Itoa(i)+".verdict") {
		case "pass", "waived":
			passed++
		}
	}
	c.known[strconv.Itoa(passed)] = true
}

// minus is a text as paper has it: with the longer sign.
func minus(s string) string { return strings.ReplaceAll(s, "-", "−") }

// own are words of the page itself that have a digit.
var own = []string{"Z0 is the", "95 %", "factor 2 for", "100 mm"}

var numeral = regexp.MustCompile(`[0-9][0-9.]*`)

func (c *checker) walk(n *html.Node, of, as string) {
	if n.Type == html.ElementNode {
		if n.Data == "style" || n.Data == "head" {
			return
		}
		of, as = "", ""
		for _, a := range n.Attr {
			switch a.Key {
			case "data-of":
				of = a.Val
			case "data-as":
				as = a.Val
			case "class":
				if slices.Contains(strings.Fields(a.Val), "scale") || slices.Contains(strings.Fields(a.Val), "turn") || n.Data == "text" &&
					strings.Fields(a.Val)[0] == "way" && of == "" && ordinal(n) {
					return // of the drawing, not of the part
				}
			}
		}
	}
	if n.Type == html.TextNode && strings.TrimSpace(n.Data) != "" {
		if of != "" {
			c.placed(of, as, n.Data)
		} else {
			c.loose(n.Data)
		}
	}
	for k := n.FirstChild; k != nil; k = k.NextSibling {
		c.walk(k, of, as)
	}
}

// ordinal says that a word of a drawing counts the readings.
func ordinal(n *html.Node) bool {
	if n.FirstChild == nil {
		return false
	}
	_, err := strconv.Atoi(n.FirstChild.Data)
	return err == nil
}

// placed holds a number with a place.
func (c *checker) placed(of, as, text string) {
	c.said.At[of]++
	v, ok := at(c.tree, of).(float64)
	if !ok {
		c.said.Wrong = append(c.said.Wrong, fmt.Sprintf("%q names %s, where no number stands", text, of))
		return
	}
	if want := c.printed(v, as); want != text {
		c.said.Wrong = append(c.said.Wrong, fmt.Sprintf("%s is %v, %q as %s, and %q stands there", of, v, want, as, text))
	}
}

// printed is a number as a page has it.
func (c *checker) printed(v float64, as string) string {
	how, name, two := strings.Cut(as, " ")
	if !two {
		how, name = "", as
	}
	switch name {
	case "percent":
		return strconv.FormatFloat(100*v, 'f', 0, 64)
	case "count":
		return strconv.Itoa(int(v))
	case "degrees":
		s := strconv.FormatFloat(v, 'f', 4, 64)
		if strings.Trim(s, "-0.") == "" {
			s = strings.TrimPrefix(s, "-")
		}
		return minus(s)
	}
	name, sign := strings.CutPrefix(name, "+")
	for _, k := range unit.Kinds() {
		if _, is, _ := strings.Cut(k.String(), " "); is != name {
			continue
		}
		step := 0.0
		if how == "fine" {
			step = unit.Step(k, c.sys) / 10
		}
		switch {
		case how == "up":
			_, s, _ := strings.Cut(unit.FormatU(0, v, k, c.sys, 0), "± ")
			s, _, _ = strings.Cut(s, " ")
			return s
		case sign:
			return minus(unit.Signed(v, k, c.sys, step))
		}
		return minus(unit.Format(v, k, c.sys, step))
	}
	return "? " + as
}

// code is a letter that has no glyph.
var code = regexp.MustCompile(`\\u[0-9a-f]{4,6}`)

// loose holds the numerals of a text that names no place. Of a name that was cut the last may be cut, too.
func (c *checker) loose(text string) {
	cut := strings.HasSuffix(strings.TrimSpace(text), "…")
	text = code.ReplaceAllString(text, " ")
	for _, w := range own {
		text = strings.ReplaceAll(text, w, "")
	}
	all := numeral.FindAllString(text, -1)
	for i, n := range all {
		if n = strings.Trim(n, "."); !c.known[n] && !(cut && i == len(all)-1) {
			c.said.Wrong = append(c.said.Wrong, fmt.Sprintf("%s in %q is no number of the JSON", n, text))
		}
	}
}

// at is what stands at a place of a tree, nil for nothing.
func at(tree any, place string) any {
	for _, key := range strings.Split(place, ".") {
		switch x := tree.(type) {
		case map[string]any:
			tree = x[key]
		case []any:
			i, err := strconv.Atoi(key)
			if err != nil || i < 0 || i >= len(x) {
				return nil
			}
			tree = x[i]
		default:
			return nil
		}
	}
	return tree
}

package report

import (
	"fmt"
	"strings"
	"unicode"

	"fliptrue/calc/unit"
	"fliptrue/steps/report/pen"
)

// num is a number as it is printed on a sheet. Of is its place in what replay --json prints, As how it is written: the
// kind of quantity, with + before it when its sign is always shown, or "up" where it is rounded up.
type num = pen.Number

// minus is longer than a hyphen: a sign is read at arm's length.
const minus = "−"

// kindName is a kind of quantity without its article.
func kindName(k unit.Kind) string {
	_, name, _ := strings.Cut(k.String(), " ")
	return name
}

func (r *Record) num(of string, v float64, k unit.Kind) num {
	return num{Text: proper(unit.Format(v, k, r.sys, 0)), Of: of, As: kindName(k)}
}

func (r *Record) signed(of string, v float64, k unit.Kind) num {
	return num{Text: proper(unit.Signed(v, k, r.sys, 0)), Of: of, As: "+" + kindName(k)}
}

// fine is a length to a digit more than a reading has: shares of a budget are small.
func (r *Record) fine(of string, v float64) num {
	return num{Text: proper(unit.Format(v, unit.KLength, r.sys, unit.Step(unit.KLength, r.sys)/10)), Of: of, As: "fine length"}
}

// up is an uncertainty, never printed smaller than it is.
func (r *Record) up(of string, v float64) num {
	_, text, _ := strings.Cut(unit.FormatU(0, v, unit.KLength, r.sys, 0), "± ")
	text, _, _ = strings.Cut(text, " ")
	return num{Text: text, Of: of, As: "up length"}
}

func share(of string, v float64) num {
	return num{Text: fmt.Sprintf("%.0f", 100*v), Of: of, As: "percent"}
}

func angle(of string, deg float64) num {
	return num{Text: proper(fmt.Sprintf("%.4f", unsigned(deg))), Of: of, As: "degrees"}
}

func count(of string, n int) num { return num{Text: fmt.Sprint(n), Of: of, As: "count"} }

func proper(s string) string { return strings.Replace(s, "-", minus, 1) }

// plain is a text from a file as paper may have it: what has no glyph, or turns the writing round, stands as its code.
func plain(s string) string {
	if !strings.ContainsFunc(s, func(c rune) bool { return !unicode.IsPrint(c) }) {
		return s
	}
	var b strings.Builder
	for _, c := range s {
		switch {
		case c == '\n' || c == '\t':
			b.WriteByte(' ')
		case unicode.IsPrint(c):
			b.WriteRune(c)
		default:
			fmt.Fprintf(&b, "\\u%04x", c)
		}
	}
	return b.String()
}

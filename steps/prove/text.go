package prove

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"strconv"
	"time"

	"fliptrue/steps/fold"
)

// Text is a State as lines. Lines that begin with ~ are words for the person; all others
// are numbers, ids and values, which stay when sentences are rewritten.
type Text []byte

// Hash is of all lines, and of those that are no words: 16 hexadecimal digits each.
func (t Text) Hash() (all, plain string) {
	short := func(b []byte) string {
		sum := sha256.Sum256(b)
		return hex.EncodeToString(sum[:8])
	}
	return short(t), short(t.Plain())
}

// Plain are the lines that are no words.
func (t Text) Plain() []byte {
	out := make([]byte, 0, len(t))
	for line := range bytes.Lines(t) {
		if line[0] != '~' {
			out = append(out, line...)
		}
	}
	return out
}

// printer appends words and numbers, separated by blanks.
type printer struct{ b []byte }

// line begins a line.
func (p *printer) line(head string) *printer {
	if len(p.b) > 0 {
		p.b = append(p.b, '\n')
	}
	p.b = append(p.b, head...)
	return p
}

// words writes a sentence for the person on a line of its own, and nothing for an empty one.
func (p *printer) words(of, s string) {
	if s != "" {
		p.line("~ ").str(of).quote(s)
	}
}

func (p *printer) key(s string) *printer {
	p.b = append(append(append(p.b, ' '), s...), '=')
	return p
}

func (p *printer) str(s string) *printer {
	p.b = append(append(p.b, ' '), s...)
	return p
}

func (p *printer) quote(s string) *printer {
	p.b = strconv.AppendQuote(append(p.b, ' '), s)
	return p
}

func (p *printer) num(vs ...float64) *printer {
	for _, v := range vs {
		p.b = strconv.AppendFloat(append(p.b, ' '), v, 'g', -1, 64)
	}
	return p
}

func (p *printer) int(v int64) *printer {
	p.b = strconv.AppendInt(append(p.b, ' '), v, 10)
	return p
}

func (p *printer) seq(v fold.Seq) *printer { return p.int(int64(v)) }

// yes writes a word when it holds.
func (p *printer) yes(is bool, word string) *printer {
	if is {
		p.str(word)
	}
	return p
}

func (p *printer) time(t time.Time) *printer {
	if t.IsZero() {
		return p.str("-")
	}
	p.b = t.UTC().AppendFormat(append(p.b, ' '), time.RFC3339Nano)
	return p
}

func (p *printer) strs(vs []string) *printer {
	for _, v := range vs {
		p.quote(v)
	}
	return p
}

func ids[T ~string](p *printer, vs []T) *printer {
	for _, v := range vs {
		p.str(string(v))
	}
	return p
}

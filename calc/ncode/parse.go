package ncode

import (
	"bytes"
	"fmt"
)

// parser reads one odd line: whatever the lexer leaves. It keeps its storage from line to line.
type parser struct {
	params *params

	t   []byte // the line without blanks and comments, in capitals, ended by a line end
	i   int
	buf [maxLine + 2]byte

	words   []word
	mask    uint32
	sets    []setting
	unread  []int // parameters read that the program never set
	deleted bool  // begins with the block delete character
	percent bool
	program bool   // an O number
	msg     string // of a (MSG, ...) comment
	control string // a control word of a dialect: IF, WHILE, GOTO, SUB ...
	dialect bool   // has a comment after a semicolon
	bigN    bool   // a line number of more than 5 digits
}

// params are the parameters of 3.2.1, as far as the program sets them itself.
type params struct {
	v   [5400]float64
	set [5400]bool
}

type setting struct {
	n int
	v float64
}

// parse reads the line text, which has no line end and at most maxLine bytes.
func (p *parser) parse(text []byte) *fault {
	p.words, p.sets, p.unread = p.words[:0], p.sets[:0], p.unread[:0]
	p.mask, p.deleted, p.percent, p.program, p.dialect = 0, false, false, false, false
	p.msg, p.control, p.bigN = "", "", false
	if f := p.squeeze(text); f != nil {
		return f
	}
	p.i = 0
	switch p.t[0] {
	case '%':
		if p.t[1] != '\n' {
			return refuse("3.1", "percent", clip(text), "a percent sign stands on a line of its own")
		}
		p.percent = true
		return nil
	case '/':
		p.deleted = true
		p.i++
	}
	if p.t[p.i] == 'N' {
		p.i++
		from := p.i
		for p.t[p.i] >= '0' && p.t[p.i] <= '9' {
			p.i++
		}
		p.bigN = p.i-from > 5
		if p.i == from || p.i-from > mostN || p.t[p.i] == '.' {
			return refuse("3.3.1", "line-number", clip(text), "a line number is 0 to 99999, whole, of at most 5 digits")
		}
	}
	if p.t[p.i] == 'O' && p.t[p.i+1] >= '0' && p.t[p.i+1] <= '9' {
		p.program = true
		for p.i++; p.t[p.i] >= '0' && p.t[p.i] <= '9'; p.i++ {
		}
	}
	if p.t[p.i] == 'O' && p.t[p.i+1] == '<' {
		p.control = "O<name>"
		return nil
	}
	if p.control = controlWord(p.t[p.i:]); p.control != "" {
		return nil
	}
	for p.t[p.i] != '\n' {
		if f := p.item(); f != nil {
			return f
		}
	}
	return nil
}

// squeeze copies text to p.t without blanks and comments, in capitals.
func (p *parser) squeeze(text []byte) *fault {
	p.t = p.buf[:0]
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case c == ' ' || c == '\t':
		case c == '(':
			end := bytes.IndexAny(text[i+1:], "()")
			if end < 0 {
				return refuse("3.3.4", "comment", clip(text[i:]), "close the comment on its own line")
			}
			if text[i+1+end] == '(' {
				return refuse("3.3.4", "comment", clip(text[i:]), "a comment holds no comment")
			}
			body := text[i+1 : i+1+end]
			if b := bytes.TrimLeft(body, " \t"); len(b) > 4 && bytes.EqualFold(b[:3], []byte("MSG")) {
				if b = bytes.TrimLeft(b[3:], " \t"); len(b) > 0 && b[0] == ',' {
					p.msg = string(bytes.TrimSpace(b[1:]))
				}
			}
			i += 1 + end
		case c == ')':
			return refuse("3.3.4", "comment", clip(text[i:]), "a comment is closed that was not opened")
		case c == ';':
			p.dialect = true
			i = len(text)
		case c >= 'a' && c <= 'z':
			p.t = append(p.t, c-0x20)
		case c < ' ' || c >= 0x7f:
			return refuse("3.3", "character", clip(text), "not the text of a program: is this the right file?")
		default:
			p.t = append(p.t, c)
		}
	}
	p.t = append(p.t, '\n')
	return nil
}

// item reads one word or one parameter setting.
func (p *parser) item() *fault {
	c, from := p.t[p.i], p.i
	if c == '#' {
		p.i++
		n, f := p.index()
		if f != nil {
			return f
		}
		if p.t[p.i] != '=' {
			return refuse("3.3.3", "setting", clip(p.t[from:len(p.t)-1]), "a parameter is set as #n=value")
		}
		p.i++
		v, f := p.value()
		if f != nil {
			return f
		}
		if len(p.sets) == 64 {
			return refuse("3.3.3", "setting", clip(p.t[from:len(p.t)-1]), "too many settings on one line")
		}
		p.sets = append(p.sets, setting{n, v})
		return nil
	}
	if c < 'A' || c > 'Z' {
		return refuse("3.3.2", "character", clip(p.t[from:len(p.t)-1]), "a word begins with a letter")
	}
	m := bit(c)
	switch {
	case c == 'N':
		return refuse("3.3.1", "line-number", clip(p.t[from:len(p.t)-1]), "the line number comes first on a line, once")
	case c == 'O':
		return refuse("3.3.2", "letter", clip(p.t[from:len(p.t)-1]), "O is no word here; as a program number it stands first on a line")
	case m&maskLetters == 0:
		return refuse("3.3.2", "letter", clip(p.t[from:len(p.t)-1]), fmt.Sprintf("%c is not a word letter of this language", c))
	}
	p.i++
	v, f := p.value()
	if f != nil {
		return f
	}
	if p.mask&m&^(maskG|maskM) != 0 {
		return refuse("3.3.5", "repeat", clip(p.t[from:p.i]), fmt.Sprintf("only one %c word on a line", c))
	}
	if len(p.words) == 255 {
		return refuse("3.3.5", "repeat", clip(p.t[from:p.i]), "too many words on one line")
	}
	p.mask |= m
	p.words = append(p.words, word{v, c})
	return nil
}

// controlWord returns the word of a dialect's control flow that t begins with, or "".
func controlWord(t []byte) string {
	n := 0
	for t[n] >= 'A' && t[n] <= 'Z' {
		n++
	}
	switch s := string(t[:n]); s {
	case "IF", "ELSE", "ELSEIF", "ENDIF", "THEN", "GOTO", "WHILE", "ENDWHILE", "DO", "END", "SUB", "ENDSUB",
		"CALL", "REPEAT", "ENDREPEAT", "RETURN", "BREAK", "CONTINUE":
		return s
	}
	return ""
}

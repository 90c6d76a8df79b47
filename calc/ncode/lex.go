package ncode

// A line is lexed in one of two ways. Plain lines (words with plain numbers, and
// comments) become words here, beside the walk. Everything else is marked odd and
// is left to parse, which needs the parameters and so runs inside the walk. What
// both can read they read alike (tested).

// mostN is how many digits a line number may have; the standard has 5 (3.3.1).
const mostN = 9

// maxLine is the longest line, without its line end (3.3).
const maxLine = 256

type word struct {
	v float64
	l byte // upper case letter
}

type lineFlags uint8

const (
	odd  lineFlags = 1 << iota // for parse
	long                       // past maxLine; the text kept is only its beginning
	semi                       // has a comment after a semicolon
	bigN                       // a line number of more than 5 digits
)

// line is one line of a block: where its text is, and its words if it is plain.
type line struct {
	mask  uint32 // bit 0 is A: which letters it has
	at    uint32 // its text in the block
	first uint32 // its words in the block
	size  uint16
	n     uint8
	flags lineFlags
}

// bit is the bit of a letter in a mask.
func bit(l byte) uint32 { return 1 << (l - 'A') }

const (
	maskX, maskY, maskZ = 1 << ('X' - 'A'), 1 << ('Y' - 'A'), 1 << ('Z' - 'A')
	maskI, maskJ, maskK = 1 << ('I' - 'A'), 1 << ('J' - 'A'), 1 << ('K' - 'A')
	maskG, maskM, maskN = 1 << ('G' - 'A'), 1 << ('M' - 'A'), 1 << ('N' - 'A')
	maskF, maskR, maskP = 1 << ('F' - 'A'), 1 << ('R' - 'A'), 1 << ('P' - 'A')
	maskS, maskT, maskL = 1 << ('S' - 'A'), 1 << ('T' - 'A'), 1 << ('L' - 'A')
	maskQ, maskH, maskD = 1 << ('Q' - 'A'), 1 << ('H' - 'A'), 1 << ('D' - 'A')
	maskAxes            = maskX | maskY | maskZ
	maskRotary          = 1 | 1<<('B'-'A') | 1<<('C'-'A')
)

// maskLetters are the word letters of Table 3; N is read apart.
const maskLetters = maskAxes | maskRotary | maskI | maskJ | maskK | maskG | maskM | maskF | maskR | maskP | maskS | maskT |
	maskL | maskQ | maskH | maskD

// block is a run of whole lines.
type block struct {
	text  []byte // every line ends in a line end
	lines []line
	words []word
	at    int64 // byte of the input where text begins
	end   int64 // bytes of the input up to and with this block
	over  bool  // its last line goes on: it is past maxLine and the rest was dropped
	err   error // the read error that ended the input, if any
	ready chan struct{}
}

// lex fills lines and words from text.
func (b *block) lex() {
	b.lines, b.words = b.lines[:0], b.words[:0]
	for i := 0; i < len(b.text); {
		i = b.lexLine(i)
	}
	if b.over && len(b.lines) > 0 {
		b.lines[len(b.lines)-1].flags |= long
	}
}

// lexLine reads the line at i and returns where the next one begins.
func (b *block) lexLine(i int) int {
	t := b.text
	ln := line{at: uint32(i), first: uint32(len(b.words))}
	ws := b.words
	start := i
scan:
	for {
		c := t[i]
		switch {
		case c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z':
			c &^= 0x20
			m := bit(c)
			j := i + 1
			for t[j] == ' ' || t[j] == '\t' {
				j++
			}
			v, next, ok := number(t, j)
			if ok && c == 'N' {
				if ln.flags |= lineNumber(t[j:next], i == start); ln.flags&odd != 0 {
					break scan
				}
				i = next
				continue
			}
			if !ok || m&maskLetters == 0 || ln.mask&m&^(maskG|maskM) != 0 || ln.n == 255 {
				ln.flags |= odd
				break scan
			}
			ws = append(ws, word{v, c})
			ln.mask |= m
			ln.n++
			i = next
		case c == '\n' || c == '\r':
			break scan
		case c == ' ' || c == '\t':
			i++
		case c == '(':
			if i = closing(t, i+1); t[i] != ')' {
				ln.flags |= odd
				break scan
			}
			i++
		case c == ';':
			ln.flags |= semi
			break scan
		default:
			ln.flags |= odd
			break scan
		}
	}
	for t[i] != '\n' && t[i] != '\r' {
		i++
	}
	b.words = ws
	b.take(ln, i-start)
	return pastEnd(t, i)
}

// pastEnd is where the line begins after the one that ends at i.
func pastEnd(t []byte, i int) int {
	if t[i] == '\r' && i+1 < len(t) && t[i+1] == '\n' {
		i++
	}
	return i + 1
}

// lineNumber says what is wrong with a line's number.
func lineNumber(digits []byte, first bool) (flags lineFlags) {
	switch {
	case !first || len(digits) > mostN || !allDigits(digits):
		return odd
	case len(digits) > 5:
		return bigN
	}
	return 0
}

// closing is where a comment that is open at i ends, or the first place where none may go on.
func closing(t []byte, i int) int {
	for ; t[i] != ')'; i++ {
		if d := t[i]; d == '(' || d == '\n' || d == '\r' {
			break
		}
	}
	return i
}

// take keeps a line of that many bytes; one that could not be read keeps none of its words.
func (b *block) take(ln line, size int) {
	if size > maxLine {
		ln.flags |= long
	}
	if ln.flags&(odd|long) != 0 {
		b.words, ln.n, ln.mask = b.words[:ln.first], 0, 0
	}
	ln.size = uint16(min(size, maxLine+1))
	b.lines = append(b.lines, ln)
}

func allDigits(t []byte) bool {
	for _, c := range t {
		if c < '0' || c > '9' {
			return false
		}
	}
	return len(t) > 0
}

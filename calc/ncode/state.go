package ncode

import "fmt"

// State is the modal state of a program.
type State struct {
	Motion      int   // tenths of the G code: 0, 10, 20, 30, 382, 730, 800 to 890; -1 when none was given
	Plane       Plane // G17 until the program says otherwise
	PlaneSet    bool
	Units       Units
	Incremental bool // G91
	ModeSet     bool // G90 or G91 was given
	InverseTime bool // G93
	RetractR    bool // G99
	Comp        int8 // -1 G41, 1 G42, 0 G40
	CompD       int  // radius register, -1 without a D word
	Length      bool // G43
	H           int  // length register of the last G43
	System      int  // work offset; 0 when the program selected none
	Feed        float64
	Speed       float64
	Spindle     int   // 3, 4, or 0 stopped
	Tool, Next  int   // in the spindle; selected by T. -1: none was called
	Rotation    bool  // G68
	Path        int   // tenths of G61, G61.1 or G64; 0 when none was given
	Coolant     uint8 // 1 M7, 2 M8
	cycle       struct{ r, z, q float64 }
	cycleSet    uint8 // 1 r, 2 z, 4 q, 8 p
	cycleInc    uint8 // of these: given in G91
	places      bool  // G90.1: I J K are places
	still       bool  // S0 was given
}

// SystemName returns the word that selects a work offset.
func SystemName(n int) string {
	switch {
	case n >= 1 && n <= 6:
		return fmt.Sprintf("G%d", 53+n)
	case n >= 7 && n <= 9:
		return fmt.Sprintf("G59.%d", n-6)
	case n > 100:
		return fmt.Sprintf("G54.1 P%d", n-100)
	}
	return "no work offset"
}

// Modal groups of Table 4, and two of the dialect.
const (
	groupNone = iota // not a known word
	groupMotion
	groupPlane
	groupDistance
	groupFeedMode
	groupUnits
	groupComp
	groupLength
	groupReturn
	groupSystem
	groupPath
	groupRotation // dialect
	groupArcMode  // dialect
	groupOnce     // not modal: G4 G10 G28 G30 G53 G92 ... and G52
	groups
)

// gGroups is the group by tenths of the G code.
var gGroups = func() (t [1000]uint8) {
	for g, codes := range map[uint8][]int{
		groupMotion:   {0, 10, 20, 30, 382, 800, 810, 820, 830, 840, 850, 860, 870, 880, 890, 730},
		groupPlane:    {170, 180, 190},
		groupDistance: {900, 910},
		groupFeedMode: {930, 940},
		groupUnits:    {200, 210},
		groupComp:     {400, 410, 420},
		groupLength:   {430, 490},
		groupReturn:   {980, 990},
		groupSystem:   {540, 550, 560, 570, 580, 590, 591, 592, 593, 541},
		groupPath:     {610, 611, 640},
		groupRotation: {680, 690},
		groupArcMode:  {901, 911},
		groupOnce:     {40, 100, 280, 300, 530, 520, 920, 921, 922, 923},
	} {
		for _, c := range codes {
			t[c] = g
		}
	}
	return t
}()

// cancels are words of many controls that switch off what is off anyway: polar words,
// scaling, mirroring, calls by line, constant surface speed. They are read in a safe line.
var cancels = map[int]bool{131: true, 150: true, 500: true, 501: true, 670: true, 691: true, 970: true}

// gNames are the names of the whole codes.
var gNames = func() (n [100]string) {
	for k := range n {
		n[k] = fmt.Sprintf("G%d", k)
	}
	return n
}()

// gName writes a G code from its tenths.
func gName(code int) string {
	switch whole, tenth := code/10, code%10; {
	case tenth == 0 && whole >= 0 && whole < len(gNames):
		return gNames[whole]
	case tenth == 0:
		return fmt.Sprintf("G%d", whole)
	default:
		return fmt.Sprintf("G%d.%d", whole, tenth)
	}
}

// mGroup returns the modal group of an M word (Table 4, Table 7): stopping, tool
// change, spindle, coolant, overrides, and calls of the dialect; 0 for an unknown one.
func mGroup(code int) int {
	switch code {
	case 0, 1, 2, 30, 60:
		return 4
	case 6:
		return 6
	case 3, 4, 5:
		return 7
	case 7, 8, 9:
		return 8
	case 48, 49:
		return 9
	case 98, 99:
		return 10
	}
	return 0
}

// command is one line's words, sorted.
type command struct {
	mask   uint32
	used   uint32 // letters that something on the line has taken
	v      [26]float64
	g      [groups]int // code by group, -1 for none
	m      [16]int     // code by group, -1 for none
	alien  bool        // it has a G word that is not known
	cancel int         // one of cancels on the line, -1 for none
	axis   int         // the non-modal word that takes the axis words, -1 for none
	cool   int8        // coolant words on the line, as State.Coolant; -1 for none
}

// has reports a letter and marks it used.
func (c *command) has(l byte) bool {
	c.used |= bit(l)
	return c.mask&bit(l) != 0
}

func (c *command) val(l byte) float64 { return c.v[l-'A'] }

// sort fills c from words.
func (c *command) sort(ws []word, lenient bool) (f *fault, soft []*fault) {
	c.mask, c.used, c.axis, c.cancel, c.alien = 0, maskG|maskM, -1, -1, false
	c.cool = -1
	for i := range c.g {
		c.g[i] = -1
	}
	for i := range c.m {
		c.m[i] = -1
	}
	nm := 0
	for _, wd := range ws {
		c.mask |= bit(wd.l)
		switch wd.l {
		case 'G':
			var more *fault
			if f, more = c.gWord(wd.v, lenient); f != nil {
				return f, soft
			}
			if more != nil {
				soft = append(soft, more)
			}
		case 'M':
			if nm++; nm > 4 {
				return refuse("3.3.5", "m-words", "", "at most four M words on a line"), soft
			}
			var more *fault
			if f, more = c.mWord(wd.v, lenient); f != nil {
				return f, soft
			}
			if more != nil {
				soft = append(soft, more)
			}
		default:
			c.v[wd.l-'A'] = wd.v
		}
	}
	return nil, soft
}

// gWord takes a G word: refused, or accepted with something to say of it.
func (c *command) gWord(v float64, lenient bool) (f, soft *fault) {
	code, ok := whole(v*10, 0.001)
	if !ok || code < 0 || code >= len(gGroups) || gGroups[code] == groupNone {
		if ok && lenient && cancels[code] {
			c.cancel = code
			return nil, &fault{Note, "cancel-word", "", gName(code), "it cancels what this program does not switch on: taken as nothing"}
		}
		c.alien = true
		return notKnown("3.5, Table 5", "g-word", fmt.Sprintf("G%v", v), lenient)
	}
	g := gGroups[code]
	if old := c.g[g]; old >= 0 {
		cancel := g == groupMotion && (old == 800 || code == 800) && old != code
		words := gName(old) + " " + gName(code)
		if !cancel || !lenient {
			return refuse("3.3.5", "group", words, "two words of one modal group on a line"), nil
		}
		soft = &fault{Note, "group", "", words, "the standard refuses G80 beside a motion word"}
		if code == 800 {
			return nil, soft
		}
	}
	c.g[g] = code
	switch code {
	case 100, 280, 300, 520, 920:
		c.axis = code
	}
	return nil, soft
}

// mWord takes an M word in the same way.
func (c *command) mWord(v float64, lenient bool) (f, soft *fault) {
	code, ok := whole(v, 0.0001)
	if !ok || mGroup(code) == 0 {
		return notKnown("3.6, Table 7", "m-word", fmt.Sprintf("M%v", v), lenient)
	}
	g := mGroup(code)
	if old := c.m[g]; old >= 0 && !(g == 8 && old != code && old != 9 && code != 9) {
		return refuse("3.3.5", "group", fmt.Sprintf("M%d M%d", old, code), "two words of one modal group on a line"), nil
	}
	switch c.m[g] = code; code {
	case 7, 8:
		c.cool = max(c.cool, 0) | int8(code-6)
	case 9:
		c.cool = 0
	}
	return nil, nil
}

// notKnown is said of a word of another language: refused, or not proven where other words are let pass.
func notKnown(clause, id, words string, lenient bool) (f, soft *fault) {
	bad := refuse(clause, id, words, "not a word of this language: take it out, or check by hand what the control does with it")
	if !lenient {
		return bad, nil
	}
	bad.sev, bad.clause = NotProven, ""
	return nil, bad
}

// whole rounds an index-like value, which must lie near a whole number (3.3.2.1: within 0.0001).
func whole(v, near float64) (int, bool) {
	if !(v > -1e9 && v < 1e9) {
		return 0, false
	}
	n := int(v + 0.5)
	if v < 0 {
		n = int(v - 0.5)
	}
	d := v - float64(n)
	return n, d <= near && d >= -near
}

package ncode

import (
	"context"
	"io"
	"math"

	"fliptrue/calc/clearance"
)

// Units of a program.
type Units uint8

const (
	AnyUnits Units = iota // not known
	MM                    // G21
	Inch                  // G20
)

func (u Units) String() string { return [...]string{"no units word", "G21", "G20"}[u] }

// Expect is what a program is held against. All lengths are in mm; places are W, in
// the expected work offset, unless they say M. The zero value, or nil, of a field
// means "not known": what needs it is then left out, and [Summary] says no more
// than the program itself gives away.
type Expect struct {
	System    int             // work offset that was measured: 1 for G54 to 9 for G59.3, 100+n for G54.1 Pn
	Units     Units           // units the job is written in
	Part      *Cuboid         // the part as it will be; its top is the finished top
	Stock     float64         // what stands on the part's top before the cut
	Clearance *float64        // lowest Z for a rapid over the part
	Z0        Z0              // what the work offset's Z0 is
	Tools     map[int]Tool    // tool list by number; nil when there is none
	Travel    *Cuboid         // M: the travel of the axes
	Placed    *Placement      // the measured work offset
	Home      *[3]float64     // M: where G28 and G30 go; nil: the upper end of the Z travel, X and Y unknown
	Floor     *float64        // lowest Z the tip may reach
	Floors    map[int]float64 // the same by tool, where it differs; minus infinity for no floor
	Ceiling   float64         // largest step in Z that the hold-down carries
	Ceilings  map[int]float64 // the same by tool, where it differs
	Lengths   Lengths         // how the control knows the lengths of tools
	Open      []Open          // what was cut into the stock beforehand

	// Carries, if not nil, returns the depth that the hold-down carries for a cut, negative
	// where that is not known. It is asked of every cutter, and takes the place of Ceiling.
	Carries func(Cut) float64
}

// Lengths is how the control knows the lengths of tools.
type Lengths uint8

const (
	LengthsTable   Lengths = iota // from a table: G43 calls them
	LengthsTouched                // each tool is touched off: Z of the offset is that of one tool
)

// Open is a round opening in the stock as it is put on the machine: a counterbore or a hole.
type Open struct {
	At             [2]float64 // W
	Radius, Bottom float64    // Bottom: W of its floor
}

// Cut is one engagement of a cutter, lengths in mm.
type Cut struct {
	Tool  int
	Width float64 // across its way, an upper bound; its diameter where it goes down
	Over  float64 // by how much Width may be too wide
	Down  bool    // straight down, or steeper than 45 degrees
	Feed  float64 // mm/min; 0 where not known
	Speed float64 // turns a minute; 0 where not known
}

// floor is the lowest Z that the tip of a tool may reach; ok is false where none is known.
func (e *Expect) floor(tool int) (z float64, ok bool) {
	if z, ok = e.Floors[tool]; ok {
		return z, !math.IsInf(z, -1)
	}
	if e.Floor == nil {
		return 0, false
	}
	return *e.Floor, true
}

// Cuboid is a box in space.
type Cuboid struct{ Min, Max [3]float64 }

// Z0 is what Z zero of a program stands on, with the part thickness between the two.
type Z0 struct {
	Kind      Z0Kind
	Thickness float64 // finished part thickness T, mm
}

// Z0Kind is where Z zero lies.
type Z0Kind uint8

const (
	Z0Unknown Z0Kind = iota
	Z0Floor          // the floor that the part stands on
	Z0Top            // the finished top
)

func (k Z0Kind) String() string { return [...]string{"unknown", "floor", "finished top"}[k] }

// other returns the name of the other Z0, and what is added to a z of this program
// if it was posted for that one.
func (z Z0) other() (name Z0Kind, shift float64) {
	switch z.Kind {
	case Z0Floor:
		return Z0Top, z.Thickness
	case Z0Top:
		return Z0Floor, -z.Thickness
	}
	return Z0Unknown, 0
}

// Placement is a measured work offset.
type Placement struct {
	Offset    [3]float64 // M: the origin
	Rotation  float64    // rad, counter-clockwise from above, about the origin
	InProgram bool       // the rotation is to stand in the program as G68 about X0 Y0
}

// Tool is what is known of one tool of the list.
type Tool struct {
	Length float64              // from the gauge line to the tip; 0 when not known
	Within [2]float64           // where it is not: the least and the most that it can be; zero where nothing is known of it
	Radius float64              // of the cutter; 0 when not known
	Corner float64              // radius of its corner: Radius for a ball, 0 for a flat one
	Drill  bool                 // it cuts with its point: its holes are no steps
	Body   []clearance.Cylinder // what turns above its cutting edges, from below; nil when not known
}

// Options say how to read and what to hold against.
type Options struct {
	Expect Expect
	// Lenient takes forms that the standard refuses and many controls take: G0, G1, G2 or
	// G3 without axis words, G80 beside another motion word (the last one counts), a full
	// circle without X and Y, unused P, Q, R, L, H and D words. They become notes. A word of the language
	// that is not known is then NOT PROVEN instead of refused.
	Lenient bool
	// Say is the units of lengths in the words of findings; millimetres unless it is [Inch].
	Say Units
	// PathOnly follows the motion and leaves out the stock: for a second look at a program whose findings are known.
	PathOnly bool
	// BlockDelete leaves out the lines that begin with a slash; otherwise they are carried out.
	BlockDelete bool
	// Progress, if not nil, is called after each block with the bytes and lines read so far.
	Progress func(bytes int64, lines int)
	// Before, if not nil, is shown how the program stands before each of its own lines, those of subprograms
	// aside, and once after the last that runs. It is good until Before returns.
	Before func(*Standing)
	// MaxCalls bounds subprogram calls; 0 means 10 000. MaxLines bounds the lines read within them; 0 means 5 million.
	MaxCalls, MaxLines int
}

// Summary is what a program contains.
type Summary struct {
	Bytes    int64
	Lines    int // of the program itself; those of subprograms count at each call in Called
	Called   int // lines read in subprograms
	Moves    int
	Units    Units
	Words    [26]int     // lines that have the word, by letter from A; plain G0 and G1 lines count too
	Systems  []SystemUse // work offsets, in order of first use
	Tools    []ToolUse   // tools, in order of first use; Number 0 is before the first call
	Rapid    Box         // W, rapids in the base system, but those in machine coordinates
	Feed     Box         // W, all other moves in the base system
	Machine  *Box        // M, all moves in the base system, G53 and G28 too; nil without a Placement
	Dialect  []string    // dialect words met, in order
	Messages []string    // (MSG, ...) comments, the first few
	Ended    string      // M2, M30, %, or "" when the program just stops
	End      State       // modal state at the end
	Findings []Finding   // by line, those of the whole program last
}

// SystemUse is the use of one work offset.
type SystemUse struct {
	System, Line, Moves int
}

// ToolUse is what a program does with one tool, in the base system.
type ToolUse struct {
	Number, Line int // Line: where it was put in the spindle
	Rapid, Feed  Box // W
	H            int // length offset last called with it; -1 when none
	// Step is the largest step down into what stood at the same place before, mm: an upper bound, see the package; 0 without a part box.
	Step     float64
	StepLine int
	Heaviest Heaviest // against Expect.Carries
	Spindle  int      // 3, 4, or 0 when it never turned
}

// Heaviest is the cut that comes nearest to what the hold-down carries, or goes furthest past it.
type Heaviest struct {
	Line         int     // 0: none was held against anything
	Depth, Width float64 // mm; where Depth is less than carried at full width, Width is that
	Holds        float64 // the depth that is carried at such a width
	Load         float64 // Depth over Holds, 1 000 000 where nothing holds
	Feed, Speed  float64 // as in Cut
	Down         bool
}

// Verdict returns the gravest severity among the findings: Note or Warn is a pass.
func (s *Summary) Verdict() Severity {
	v := Note
	for i := range s.Findings {
		v = max(v, s.Findings[i].Severity)
	}
	return v
}

// Walk reads the program r, hands its motion to sink (which may be nil), and returns
// what it found. The error is that of the reader or of ctx; whatever is wrong with
// the program is a finding. On an error the summary holds what was read until then.
//
// Subprograms (M98) are read only where r is an io.ReaderAt, as an os.File or a
// bytes.Reader is; its offset 0 is taken to be where r begins. Walk returns only
// after a read in progress has returned.
func Walk(ctx context.Context, r io.Reader, opts Options, sink Sink) (*Summary, error) {
	w := newWalker(ctx, r, opts, sink)
	p := newPipe(r)
	defer p.close()
	how, err := w.run(p, nil)
	if err == nil {
		w.line++
		w.stand()
		w.line--
	}
	w.finish(how, err)
	return &w.sum, err
}

package ncode_test

import (
	"context"
	"fmt"
	"strings"

	"fliptrue/calc/clearance"
	"fliptrue/calc/ncode"
)

// A short program held against one strap: what is wrong with it, and how near it comes.
func Example() {
	const program = `G21 G17 G90
G54
T3 M6
S18000 M3
G43 H3 G0 Z40
X60 Y30
G1 Z-1 F600
X92
G0 Z40
M30
`
	strap, err := clearance.Rectangle(95, 20, 115, 40)
	if err != nil {
		panic(err)
	}
	tool, err := clearance.NewTool("flat 3.175", clearance.Dims{Dia: 3.175, Flute: 10, Shank: 3.175, Stickout: 20, Holder: 24})
	if err != nil {
		panic(err)
	}
	sink, err := ncode.NewClearance(clearance.Usual, []clearance.Obstacle{{Name: "right strap", Outline: strap, Top: 12}}, map[int]clearance.Tool{3: tool}, nil)
	if err != nil {
		panic(err)
	}
	sum, err := ncode.Walk(context.Background(), strings.NewReader(program), ncode.Options{Expect: ncode.Expect{System: 1, Units: ncode.MM}}, sink)
	if err != nil {
		panic(err)
	}
	for _, f := range append(sum.Findings, sink.Findings()...) {
		fmt.Println(f)
	}
	n := sink.Nearest()[0]
	fmt.Printf("%s: %.4f of %.4f, line %d\n", n.Obstacle, n.Gap, n.Needed, n.Line)
	// Output:
	// line 10: note: end-state: G49; not given before the end: the next program begins in that state
	// line 8: fail: clearance: right strap: gap 1.4125, needed 2.0000, short 0.5875; tool of T3, cutting move, at X92.0000 Y30.0000 Z-1.0000
	// right strap: 1.4125 of 2.0000, line 8
}

package frame_test

import (
	"fmt"

	"fliptrue/calc/frame"
)

func ExampleFixture() {
	v, err := frame.Against(frame.Vec{X: 45, Y: 20}, 0.02, frame.Left, frame.Away)
	if err != nil {
		fmt.Println(err)
		return
	}
	f := frame.Fixture{Bore: frame.Vec{X: -312.445, Y: -158.221}, V: v, Skew: 0.0002, Q: 1}
	pl := f.Compromise(frame.Middle([]frame.Vec{{X: 12, Y: 52}, {X: 96, Y: 64}}))
	line, err := frame.G10(1, 3, frame.Word{Axis: 'X', Value: pl.Offset.X}, frame.Word{Axis: 'Y', Value: pl.Offset.Y})
	if err != nil {
		fmt.Println(err)
		return
	}
	e := f.Error(pl, frame.Vec{X: 96, Y: 64})
	fmt.Println(line)
	fmt.Printf("far corner: X %+.4f, Y %+.4f\n", e.X, e.Y)
	// Output:
	// G10 L2 P1 X-267.481 Y-138.181
	// far corner: X -0.0012, Y +0.0084
}

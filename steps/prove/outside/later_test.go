package outside

import (
	"math/rand/v2"
	"strings"
	"testing"

	"fliptrue/jobs"
)

// By hand, with a part of 92 x 64 whose second side lies 0.0112 to the right and 0.0172 toward the person, turned by 0.0002, out
// of square by 0.0001 and larger by 0.0015: the right face, 22 on this side of the middle, stands out by
// 0.0112 + 0.0002*22 - 0.0001*22 + 0.0015 = 0.0149; the far face, 36 to the right, by -0.0172 + 0.0002*36 + 0.0015 = -0.0085.
func TestStepsByHand(t *testing.T) {
	p := &piece{l: 92, b: 64, mid: Vec{46, 32, 0}, turn: 0.0002, square: 0.0001, lap: 0.0015}
	p.set(Vec{0.0112, -0.0172, 0})
	near(t, "right", p.stand("part-right", 10), 0.0149, 1e-5)
	near(t, "left", p.stand("part-left", 10), -0.0112-0.0022+0.0015, 1e-5)
	near(t, "far", p.stand("part-rear", 82), -0.0085, 1e-5)
	near(t, "near", p.stand("part-front", 82), 0.0172-0.0072+0.0015, 1e-5)
	k := newLater("inspect", Mistake{Name: "half-round"}, 1, Shop{})
	if face, at := k.faces(p, "part-right", 10); face != "part-left" || at != 54 {
		t.Errorf("half round, the right face 10 from its near end is %s %g", face, at)
	}
}

const small = `%
G17 G21 G40 G49 G80 G90 G94
G54
T3 M6
G43 H3
S9000 M3
G0 Z20
X-3 Y-1
G1 Z4 F200
M98 P100 L3
G0 Z20
X-3 Y-1
G1 Z3 F200
M98 P100 L3
G0 Z40
M30
O100
G91
G1 X50 F480
Y1
X-50
Y1
G90
M99
`

// By hand: after two and a half runs of the subprogram the tool stands at X 47, Y 4 and Z 4. What is cut last before that began
// at line 10, where the tool is still up; what is typed before it has to say all that a run from the top would have said.
func TestControlByHand(t *testing.T) {
	ran, err := (control{}).run(small)
	if err != nil {
		t.Fatal(err)
	}
	stop := 0
	for i, s := range ran {
		if s.line == 10 && s.repeat == 3 && s.at == (Vec{47, 4, 4}) && s.motion == "G1" {
			stop = i
		}
	}
	if stop == 0 {
		t.Fatal("the tool never stands at 47 4 4 in the third run")
	}
	typed := []string{"G17 G21 G90 G40 G49 G80 G94", "T3 M6", "G54", "G0 X0 Y0", "G43 H3", "S9000 M3"}
	if err := restarts(small, typed, 7, stop, 5); err != nil {
		t.Error(err)
	}
	for what, c := range map[string]struct {
		typed []string
		line  int
	}{"the next pass": {typed, 11}, "down in the work": {typed, 9}, "no length": {typed[:4], 7}, "another place": {append(typed, "X-3"), 7}} {
		if err := restarts(small, c.typed, c.line, stop, 5); err == nil {
			t.Errorf("%s: nothing is wrong with it", what)
		}
	}
}

// A part that let go stays within its walls, moves, and is back at them when it was pushed.
func TestLetGo(t *testing.T) {
	moved := 0
	for seed := range uint64(40) {
		w := &letGo{World: world(t, none(), func(j *jobs.Job) bool { return !j.Setups[0].Floating }), r: rand.New(rand.NewPCG(seed, 1))}
		w.moves(Mistake{})
		if !w.inPocket() {
			t.Errorf("seed %d: it stands in a wall", seed)
		}
		if !w.atWalls() {
			moved++
		}
		w.pushed()
		if !w.atWalls() {
			t.Errorf("seed %d: pushed to its walls, strips pull out", seed)
		}
	}
	if moved < 10 {
		t.Errorf("of 40 parts %d left their walls", moved)
	}
}

// A plate that lies half round has its second bore to the left; touched as if it lay right, its pocket is elsewhere.
func TestHalfRound(t *testing.T) {
	var shop Shop
	w, j, err := newReturned(3, &shop, Mistake{})
	if err != nil {
		t.Fatal(err)
	}
	d := j.Fixture.AsMade.Bore2.At.X
	right := w.World.bore(w.at2, w.bore2, 0).X - w.World.bore(jobs.Point{}, w.bore, 0).X
	w.lies(true)
	left := w.World.bore(w.at2, w.bore2, 0).X - w.World.bore(jobs.Point{}, w.bore, 0).X
	near(t, "second bore", right, d, 0.2)
	near(t, "half round", left, -d, 0.2)
	w.lies(false)
	w.bent = 0.025
	lo, hi := w.pocket()
	level := w.touched(false, (lo.X+hi.X)/2, (lo.Y+hi.Y)/2, 0)
	near(t, "bent", w.touched(false, hi.X, hi.Y, 0)-level, 0.025, 0.012)
}

// What a step offers is read with its sign, whatever stands around it.
func TestOffered(t *testing.T) {
	s := Said{}
	s.Sheet.Steps = []SaidStep{{ID: "floor-left", Notes: []string{"The next part: Z DOWN by 0.012 mm. No card keeps that."}},
		{ID: "scale", Notes: []string{"The rest is damp, or a plate 3.0 °C to 7.0 °C colder than its thermometer. The bores cannot tell which."}}}
	a := Advice{"floor-left", "height", heightBy, "UP", -0.010, 0.005}
	if o := a.Offered(s); len(o) != 1 || o[0] != -0.012 || !a.Good(o[0]) || a.Good(0.012) || a.Good(-0.02) {
		t.Errorf("height: %v", o)
	}
	x, g := 0.02, 0.005
	s.Sheet.Steps[1].Found = []struct {
		What, Says   string
		Value, Guard *float64
	}{{"the rest, beyond heat as read", "", &x, &g}}
	if w := unsure(s, -4); len(w) != 0 {
		t.Errorf("both are named: %v", w)
	}
	if len(unsure(s, 5)) == 0 {
		t.Error("a plate that is warmer, not colder")
	}
	for _, said := range []string{"The rest is what 8.8 % more humidity would do, 54 % in the plate.", "The rest is damp."} {
		if s.Sheet.Steps[1].Notes = []string{said}; len(unsure(s, 0)) == 0 {
			t.Errorf("taken for right: %s", said)
		}
	}
}

// Mistakes have names, a meaning and kinds that there are; a step they are made at is one of the walk.
func TestMistakesAreNamed(t *testing.T) {
	names := map[string]bool{}
	for _, m := range Mistakes {
		if m.Name == "" || m.Meaning == "" || m.Comes == "" || names[m.Kind+m.Name] || !strings.Contains(strings.Join(LaterKinds, " "), m.Kind) {
			t.Errorf("%+v", m)
		}
		names[m.Kind+m.Name] = true
	}
	if _, err := WalkLater("inspect", "thunder", 1); err == nil {
		t.Error("an unknown mistake is walked")
	}
}

// By hand: pads at X 30 and Y 100 from bore 1, cut 0.01 small by a mill without faults, hold a part of 110 x 76 with its zero at
// 30.01, 23.99; of pads at X 140 and Y 24 at 29.99, 24.01.
func TestCornerByHand(t *testing.T) {
	for _, seed := range []uint64{12, 15} {
		w, _, _, err := newMaking(seed)
		if err != nil {
			t.Fatal(err)
		}
		for i := range w.now.waves {
			w.now.waves[i].size = 0
		}
		w.now.bends[0].size, w.now.bends[1].size, w.now.axes = 0, 0, One()
		w.small, w.l, w.b = 0.01, 110, 76
		for k := range w.bent {
			w.bent[k] = 0
		}
		w.Sizes["backlash"] = 0
		c, by := w.corner(), 0.01
		if w.walls[0] == "right" {
			by = -0.01
		}
		near(t, "x", c.X, 30+by, 1e-9)
		near(t, "y", c.Y, 24-by, 1e-9)
	}
}

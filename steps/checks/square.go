package checks

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/register"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// SquareWords are what a person reads of the thing that is brought true to the machine's axis.
type SquareWords struct {
	Title, Why string
	Limit      string // why there is a limit, "" for what the table of limits says
	Bolts      string // that hold it: "fixture bolts"
	True       string // "The fixture is true", before how well
	Rest       string // what becomes of the skew that is left
	Seated     string // what is done first while the part is in
	kit.EdgeWords
}

// FixtureSquare are those of a fixture.
var FixtureSquare = SquareWords{
	Title: "fixture square", Why: "This gives direction, and only direction. Tapping moves all else, so it comes first.",
	Bolts: "fixture bolts", True: "The fixture is true", Rest: "The offset will carry the rest.",
	Seated:    "Never tap with the part in: declare the fixture tapped, and the part comes out first.",
	EdgeWords: kit.EdgeWords{Edge: "the edge", Bare: "Tap only with the part out."},
}

// Square brings the fixture's edge, or its two bores, true to the machine's axis.
func Square(p *fold.Plan) *fold.Spec {
	s := SquareBy(p, FixtureSquare)
	if s != nil {
		s.Former = []string{"allowance", "part.features"}
	}
	return s
}

// SquareBy brings an edge, or the line of two bores, true to the machine's axis by tapping, in as many
// rounds as it takes; nil where there is neither.
func SquareBy(p *fold.Plan, w SquareWords) *fold.Spec {
	b := bearingOf(p, w.EdgeWords)
	if b == nil {
		return nil
	}
	q := squaring{p: p, b: b, words: w}
	var asRead []fold.FactID
	if _, edge := b.(kit.EdgeBearing); !edge {
		_, q.byPair = b.(kit.PairBearing)
		asRead = kit.Finder(p).Stands()
	}
	return &fold.Spec{
		Title: w.Title, Needs: fold.Needs(fold.Live("identity"), fold.AsRead(asRead...), fold.IfBegun("tram"), fold.Whether("seat")),
		Makes: []fold.FactID{"skew"}, Bare: fold.UnlessSeated, Asks: q.asks, Judge: q.judge, Page: q.page,
	}
}

// bearingOf is what the setup offers, nil without any.
func bearingOf(p *fold.Plan, w kit.EdgeWords) kit.Bearing {
	if e, ok := kit.EdgeOf(p); ok {
		return kit.EdgeBearing{P: p, Edge: e, Words: w}
	}
	return kit.DatumOf(p).Bearing()
}

// squaring is the step for one bearing.
type squaring struct {
	p      *fold.Plan
	b      kit.Bearing
	byPair bool
	words  SquareWords
}

func (q squaring) limit(v fold.View) fold.Limit {
	l := q.p.Limit("square.skew")
	if l.Max = SkewLimit(q.p, kit.WalkOf(v)); q.words.Limit != "" {
		l.Why = q.words.Limit
	}
	return l
}

// turned says how the tap before this round went.
func (q squaring) turned(v fold.View, h kit.Heading) fit.Turned {
	k := len(v.Earlier)
	if k == 0 {
		return fit.AsAdvised
	}
	before, ok := q.reads(v.In(v.Earlier[k-1], v.Earlier[:k-1]))
	if !ok {
		return fit.AsAdvised
	}
	return fit.Judge(before.Theta, before.U, h.Theta, h.U)
}

// reads is what a round says: by all of its readings, else by both ends.
func (q squaring) reads(v fold.View) (kit.Heading, bool) {
	if h, ok := q.b.Read(v, true); ok {
		return h, true
	}
	return q.b.Read(v, false)
}

// doubtful says that the round before went the wrong way, so that what ready asks is asked again.
func (q squaring) doubtful(v fold.View) bool {
	k := len(v.Earlier)
	if k == 0 {
		return false
	}
	w := v.In(v.Earlier[k-1], v.Earlier[:k-1])
	h, ok := q.b.Read(w, kit.ByNeedle(q.p))
	return ok && q.turned(w, h) != fit.AsAdvised
}

func (q squaring) asks(v fold.View) []fold.Ask {
	v, _ = q.since(v)
	was := v
	if q.doubtful(v) { // an earlier jog test does not serve
		was.Earlier = nil
		if e, ok := q.b.(kit.EdgeBearing); ok {
			e.Doubted = true
			q.b = e
		}
	}
	if v.Standing("seat") { // nothing is tapped and no bolt turned: one full run shows how it lies
		return append(q.b.Ready(was), q.b.Run(v)...)
	}
	asks := q.b.Ready(was)
	if q.b.Faulty(v) != nil && v.Walks(3) {
		return asks
	}
	ends := q.b.Ends(v)
	if asks = append(asks, ends...); q.b.Faulty(v) != nil {
		return asks
	}
	if len(ends) == 0 { // the needle was followed by eye
		return append(asks, q.b.Run(v)...)
	}
	h, ok := q.b.Read(v, false)
	good := ok && math.Abs(h.Theta) <= q.limit(v).Max && q.turned(v, h) == fit.AsAdvised
	run := q.b.Run(v)
	if !good && !v.Has("bolts") && !v.Has(run[0].Field) && !waives(v.Round, "square.skew") {
		return asks
	}
	tight := fold.Act{Do: "tighten", Of: "fixture", Words: agree(q.p, v, h) + " Tighten all " + q.words.Bolts +
		", alternately. Bolts twist: that is why all is read again now."}
	if q.p.Walks(4) && !v.Has("bolts") { // their number was held against nothing
		run[0].Do = append([]fold.Act{tight}, run[0].Do...)
		return append(asks, run...)
	}
	asks = append(asks, fold.Ask{Field: "bolts", Label: "how many " + q.words.Bolts + " are tight now", Kind: fold.Count,
		What: fold.What{By: "count", Of: "fixture-bolts"}, Do: []fold.Act{tight}})
	return append(asks, run...)
}

func (q squaring) judge(v fold.View) fold.Outcome {
	v, open := q.since(v)
	var o fold.Outcome
	if kit.Misread(q.b, v, "square.jog", &o) {
		return o
	}
	h, ok := q.reads(v)
	if !ok {
		return kit.Cannot(q.p, "square", fmt.Errorf("the readings give no direction"), o)
	}
	g := 0.0
	if h.Full && !kit.SecondSeen(q.p) { // both bores measure it once more, and the offset is judged by that
		open.Add(h.Heading)
		h, g = q.mean(v, open, h)
	}
	o.Lines = append(o.Lines, fold.Row{Label: "skew", Value: h.Theta, Unit: unit.KSlope, Guard: g, Signed: true, Big: true},
		fold.Row{Label: "the same as an angle", Text: degrees(q.p, h.Theta)})
	if h.Full {
		o.Facts = []fold.Known{facts.Skew.Is(facts.SkewFact{Theta: unit.Angle(h.Theta), Straightness: unit.Length(h.Form),
			Cov: fold.NewCov("theta", [][]float64{{h.U * h.U}})})}
	}
	if q.doubtPivot(v, &o) {
		return o
	}
	went := q.turned(v, h)
	c := wentWrong(judge.Most(q.limit(v), math.Abs(h.Theta), g), went, &o)
	if h.Full {
		q.b.Check(h, q.limit(v), &o)
	}
	if c.Verdict != fold.Pass && len(o.Next) == 0 && !q.readFirst(v, h, went, &c, &o) {
		o.Next = append(o.Next, q.next(v, h, went))
	}
	o.Checks = append(o.Checks, c)
	q.learned(v, h, g, c.Verdict == fold.Pass, &o)
	return o
}

// wentWrong fails a skew that the tap before made worse.
func wentWrong(c fold.Check, went fit.Turned, o *fold.Outcome) fold.Check {
	if went == fit.AsAdvised {
		return c
	}
	o.Named = "tapped-wrong-way"
	if went == fit.Doubled {
		return judge.Fails(c, "The skew about doubled: a full tap in the wrong direction, or what shows the way was wrong.")
	}
	return judge.Fails(c, "It went the wrong way, or what shows the way was wrong.")
}

// next is what is done about a skew that does not pass.
func (q squaring) next(v fold.View, h kit.Heading, went fit.Turned) fold.Act {
	switch {
	case v.Standing("seat"):
		return fold.Act{Do: "declare", Of: "fixture-tapped", Words: q.words.Seated}
	case went != fit.AsAdvised:
		return untapped(q.b)
	}
	return tap(q.p, q.b, h)
}

// readFirst says that nothing is tapped by this run: a station that stands out is read again first, and what is
// within its limit but not proven is no skew to be tapped away.
func (q squaring) readFirst(v fold.View, h kit.Heading, went fit.Turned, c *fold.Check, o *fold.Outcome) bool {
	if !h.Full || !v.Walks(3) || v.Standing("seat") || went != fit.AsAdvised {
		return false
	}
	field, where, off, out := q.b.Outlying(v)
	if t, ok := v.Round.Get(field); out && ok && len(t.Before) == 0 {
		c.Words = fmt.Sprintf("One station stands out by %s: nick, chip or wrong key. Nothing is tapped by it.", q.p.Len(math.Abs(off)))
		o.Named = "nick"
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "edge", Words: "Stylus back to " + where + ". Wipe there and read it again."},
			fold.Act{Do: "again", Of: field})
		return true
	}
	if c.Verdict != fold.NotProven {
		return false
	}
	if c.Largest = h.Doubt(); !out && q.seenTwice(v, h) && c.Guard < c.Limit.Max && math.Abs(h.Rise) > q.p.Job.Machine.Dial.Graduation {
		_, high := kit.Ends(q.p)
		c.Words = fmt.Sprintf("Read twice the same: the %s end is %s %s, too near the limit.", high, q.p.Len(math.Abs(h.Rise)),
			kit.TapWay(q.p, h.Rise))
		return false // what was seen twice may be tapped away
	}
	c.Words = "Within the limit, but this run does not prove it. Don't tap."
	if c.Largest != "" {
		c.Words += " The largest doubt is " + c.Largest + "."
	}
	o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "edge", Words: q.onceMore(out)}, fold.Act{Do: "round"})
	return true
}

// onceMore says how all is read again.
func (q squaring) onceMore(out bool) string {
	switch {
	case q.byPair:
		return "Wipe both. Read both once more, the bolts tight."
	case out:
		return "It reads the same twice: stone the edge there. Then read it all once more."
	}
	return "Clamp the dial's stand, wipe the edge. Read it all once more, the bolts tight."
}

// seenTwice says that the round before was read in full as well, and leans the same way within what the two are known.
func (q squaring) seenTwice(v fold.View, h kit.Heading) bool {
	k := len(v.Earlier)
	if k == 0 {
		return false
	}
	was, ok := q.b.Read(v.In(v.Earlier[k-1], v.Earlier[:k-1]), true)
	return ok && was.Theta*h.Theta > 0 && math.Abs(was.Theta-h.Theta) < 2*math.Hypot(was.U, h.U)
}

// learned says how it lies, and what of that may stay.
func (q squaring) learned(v fold.View, h kit.Heading, g float64, passed bool, o *fold.Outcome) {
	_, high := kit.Ends(q.p)
	lies := fmt.Sprintf("the %s end is %s %s.", high, q.p.Len(math.Abs(h.Rise)), kit.TapWay(q.p, h.Rise))
	if h.Full && passed {
		o.Learned = fmt.Sprintf("%s within %s: %s %s", q.words.True, q.p.Slope(math.Abs(h.Theta)+g), lies, q.words.Rest)
		return
	}
	o.Learned = fmt.Sprintf("T%s Limit over this run %s.", lies[1:], q.p.Len(q.limit(v).Max*math.Abs(h.Lever)))
	if last := &o.Checks[len(o.Checks)-1]; last.Words == "" {
		last.Words = o.Learned
	}
}

func (q squaring) page(v fold.View) fold.Page {
	v, _ = q.since(v)
	pg := fold.Page{Why: q.words.Why}
	if q.byPair {
		pg.Why = "From one " + kit.Locator(q.p) + " to the other is the fixture's direction. Tapping moves both, so it comes first."
	}
	pg.Act, pg.Read, pg.Caution = q.b.Says()
	low, ok := q.b.Read(v, false)
	doubt := ok && q.turned(v, low) != fit.AsAdvised
	switch {
	case v.Has("bolts") || v.Has(q.b.Run(v)[0].Field):
		pg.Act, pg.Now = "Bolts tight. Read all of it. Don't tap.", true
	case doubt, !ok && q.doubtful(v):
		pg.Act, pg.Now = untapped(q.b).Words, true
	}
	if e, ok := q.b.(kit.EdgeBearing); ok && v.Round != nil {
		if pg.Scene.Run = e.Plot(v); pg.Scene.Run != nil {
			st := kit.Stations(q.p)
			pg.Scene.Run.Limit = q.limit(v).Max * math.Abs(st[len(st)-1]-st[0])
			if doubt {
				pg.Scene.Run.TapEnd, pg.Scene.Run.TapDir, pg.Scene.Run.Tap = "", "", 0
			}
		}
	}
	pg.Scene.Shapes = lying(q.p, v).Shapes
	return pg
}

// lying draws what is squared: the vise's jaws or the fixture.
func lying(p *fold.Plan, v fold.View) fold.Scene {
	if p.Setup.Vise.Jaw != "" {
		return kit.JawPicture(p, v)
	}
	return kit.Scene(p, v, nil)
}

// degrees is an angle in degrees with its sign; there is no minus zero.
func degrees(p *fold.Plan, rad float64) string {
	d := math.Round(rad*180/math.Pi*1e4) / 1e4
	return fmt.Sprintf("%+.4f deg", d+0)
}

// tap is the advice: which end, which way, how far, and what the needle will show.
func tap(p *fold.Plan, b kit.Bearing, h kit.Heading) fold.Act {
	low, high := kit.Ends(p)
	move := -h.Theta * h.Lever
	if kit.AlongY(p) {
		move = -move
	}
	w := b.Watch(h, move)
	a := fold.Act{Do: "tap", Of: "fixture@" + strings.ToLower(high), Dir: strings.ToLower(kit.TapWay(p, move)), Amount: math.Abs(move),
		Needle: w.Needle}
	pivot := low + " end is the pivot."
	if h.Full { // the run was read with the bolts tight
		pivot = low + " end is the pivot: its bolt stays firm, loosen the others to finger tight."
	}
	a.Words = fmt.Sprintf("%s %sTap the %s end %s by %s%s", pivot, w.Before, high, kit.TapWay(p, move), p.Len(math.Abs(move)),
		w.After)
	return a
}

// agree says how both ends stand to each other when the bolts are tightened.
func agree(p *fold.Plan, v fold.View, h kit.Heading) string {
	if d := math.Abs(h.Rise); v.Walks(3) && d > 2*h.U*math.Abs(h.Lever) {
		return "The ends differ by " + p.Len(d) + "; that may stay."
	}
	return "Both ends agree."
}

// untapped is all that is done after a tap that went the wrong way: which way the next one has to go is not known.
func untapped(b kit.Bearing) fold.Act {
	if pb, ok := b.(kit.PairBearing); ok {
		if _, dial := kit.Finder(pb.P).(kit.Sweeper); !dial {
			return fold.Act{Do: "round", Words: "Read both again, without a tap in between."}
		}
	}
	return fold.Act{Do: "round", Words: "Repeat the jog test, without a tap in between."}
}

// waives says that a limit of the round was passed over; what is read after it must pass or be waived again.
func waives(r *fold.Round, limit string) bool {
	if r != nil {
		for _, w := range r.Waivers {
			if w.Limit == limit {
				return true
			}
		}
	}
	return false
}

// SkewLimit is the skew that may stay: what the offset's own uncertainty leaves of
// half the allowance at the farthest feature, and never above the cap; a control
// that turns the program takes up to half a degree. A vise has no offset to carry it.
func SkewLimit(p *fold.Plan, walk int) float64 {
	l := p.Limit("square.skew")
	if p.Granted("square.skew") || p.Setup.Vise.Jaw != "" {
		return l.Max
	}
	if Rotates(p) {
		return float64(frame.SkewLimit)
	}
	return register.SkewLimit(judge.Before(p), kit.OffsetGuard(p, walk), judge.Reach(p), l.Max)
}

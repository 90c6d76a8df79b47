package fold

// What the tests of this package look at from inside.

func (c *Check) Headline(p *Plan) string              { return c.headline(p) }
func (l *Log) N() Seq                                 { return l.n }
func (l *Log) Rounds(setup string, s StepID) []*Round { return l.setups[setup].rounds[s] }
func (l *Log) TouchedBefore(first, since Seq) bool    { return l.touchedBefore(first, since) }
func (p *Plan) Tool(name string) string               { return p.tool(name) }

func (h *House) Meant(a Ask, v string) string { return h.meant(a, v) }
func (h *House) Wanted(a Ask, v string) Check { return h.wanted(a, v) }

var (
	Echoed     = echoed
	Failing    = failing
	Pick       = pick
	PlainFacts = plainFacts
	Waive      = waive
)

func (s *Spec) Relate() { s.relate() }

// FromCard reads a fact from a card.
func FromCard(f AnyFact, text string) (Known, error) { return f.fromCard(text) }

package tui

import "sort"

// newHelp is generated from the key map: what every key does on the page under
// it, and why one does nothing now.
func newHelp(m *Model) *textPage {
	f := m.focus()
	off := m.off()
	lines := func(m *Model, w int) []string {
		var out []string
		for _, h := range m.km.Help(f, off) {
			does := h.Does
			role := Text
			if h.Off != "" {
				does += " (not now: " + h.Off + ")"
				role = Dim
			}
			for _, l := range WrapHung(Pad(h.Keys, 17), m.t.Say(does), w) {
				out = append(out, m.t.Paint(role, l))
			}
		}
		out = append(out, "", m.t.Paint(Act, "The numeric keypad"))
		return append(out, m.km.Keypad()...)
	}
	return &textPage{title: "keys", lines: lines}
}

// terms are the words of the trade as this program uses them.
var terms = map[string]string{
	"allowance":     "the register allowance: how far side 2 may stand off side 1 at the worst feature. Limits are shares of it",
	"a baseline":    "readings of part minus fixture, taken when the part is held; what is read later is held against them",
	"locating bore": "the fixture's locating hole. It gives position, and only position",
	"echo":          "what is read back from the control's own page, blind, after keying it in",
	"edge":          "the fixture's straight side. It gives direction, and only direction",
	"fact":          "a result that later steps stand on: a bore, a floor, an offset. It can become void",
	"flip axis":     "the axis the part is turned about between the sides. The program believes one, too",
	"guard":         "the half width that a number has to stay off its limit: one-sided 95 %",
	"M, W":          "machine and work coordinates. M is the readout after homing, W counts from the offset",
	"mishap":        "something that happened to the setup. Declaring one shows what fell and the shortest way back",
	"NOT PROVEN":    "within the limit, but not by its guard: it can't be said either way",
	"work offset":   "where the part zero stands in machine coordinates, under a word such as G54",
	"pause point":   "a place to stop, because after it something can't be undone",
	"recheck":       "a few readings that show whether a void result still holds",
	"register":      "how side 2 stands to side 1",
	"round":         "one go at a step. A new round never erases the old one",
	"skew":          "the angle of the fixture's edge against the machine's axis",
	"stop points":   "what is asked after the release, while the part is being cut",
	"tap":           "to turn the fixture by a knock at its end; it moves the bore as well",
	"void":          "no longer known, because of what happened after it was read",
	"waiver":        "a limit passed over by a person, with a reason. It stands on every page until the setup ends",
	"witness":       "a place touched on part or fixture only to see whether something moved",
	"Z0":            "the height the program counts from: the pocket floor, or the finished top",
	"dial reading":  "clockwise is plus; come to every station from the same side",
}

// newGlossary is what the words mean.
func newGlossary(m *Model) *textPage {
	return &textPage{title: "words", lines: func(m *Model, w int) []string {
		var ks []string
		for k := range terms {
			ks = append(ks, k)
		}
		sort.Strings(ks)
		var out []string
		for _, k := range ks {
			out = append(out, WrapHung(Pad(k, 15), m.t.Say(terms[k]+"."), w)...)
		}
		return out
	}}
}

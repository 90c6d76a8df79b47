package fold

import "sort"

// Spoil is why a part is not like others of its fixture: a mishap declared, or a limit waived.
type Spoil struct {
	Setup  string
	Seq    Seq
	Mishap MishapID // "" for a waiver
	Limit  string   // the limit waived
}

// Spoiled is all of that in the whole record, whatever its setup, before the round's first reading; a
// step that asks has Spec.Record.
func (v View) Spoiled() []Spoil { return v.spoiled }

// WithSpoiled is a view made by hand with these.
func (v View) WithSpoiled(ss ...Spoil) View {
	v.spoiled = ss
	return v
}

func (x *resolver) spoiled(t Seq) (out []Spoil) {
	for name, s := range x.lg.setups {
		for _, h := range s.happened {
			if h.Seq <= t && h.By == "" {
				out = append(out, Spoil{Setup: name, Seq: h.Seq, Mishap: h.ID})
			}
		}
		for _, rounds := range s.rounds {
			for _, r := range rounds {
				for _, w := range r.Waivers {
					if w.Seq <= t {
						out = append(out, Spoil{Setup: name, Seq: w.Seq, Limit: w.Limit})
					}
				}
			}
		}
	}
	sort.Slice(out, func(i, k int) bool { return out[i].Seq < out[k].Seq })
	return out
}

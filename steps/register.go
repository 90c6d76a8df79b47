package steps

import (
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// Register is what is known of the register now, side-1, side-2 and shift lines included; nil while there is no offset. The bench asks for
// it here: it may know no room, since it shares no formula with the walk.
func Register(st *fold.State) []kit.FeatureError {
	return kit.RegisterAs(st.Plan(), st.Stands, true, kit.WalkOf(st))
}

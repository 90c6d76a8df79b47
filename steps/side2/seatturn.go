package side2

import (
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// How the part is turned at its walls: one face touched at both ends. Where a witness set is read before the
// screws it is in that; where dials on posts stand in its place it is read here.

// turnAsks are the two touches, none where a set has them or the two lie on different faces. They save less than their minute; yet on
// strips alone the least level holds 92 of 100 where the part is strapped first, and where it is not 5 of 100 sound setups are not proven.
func turnAsks(p *fold.Plan, v fold.View) []fold.Ask {
	if !posts(p) {
		return nil
	}
	spots := kit.Spots(p)
	ends, ok := kit.FaceEnds(spots)
	if !ok {
		return nil
	}
	var asks []fold.Ask
	for _, i := range ends {
		s := spots[i]
		asks = append(asks, fold.Ask{Field: s.Field, Label: s.Label + ", Y", Kind: fold.Reading, Unit: unit.KLength,
			What:   fold.What{By: kit.FaceBy(p, s.Axis), Of: s.Of, Dir: s.Dir, Axis: kit.AxisName[s.Axis]},
			Window: kit.Closer(kit.TravelWindow(p, "y"), inPocket(p, v, s))})
	}
	if y, ok := v.Num(asks[0].Field, unit.KLength); ok {
		asks[1].Window = kit.Around(y, 0.2, "the other end of the face")
	}
	asks[0].Do = []fold.Act{fitting(p, "Touch the part's face at both ends, at one height.")}
	return asks
}

// turnTouched adds the turn to the seat's fact where it was touched.
func turnTouched(p *fold.Plan, v fold.View, seat fold.Known) fold.Known {
	asks := turnAsks(p, v)
	if len(asks) != 2 || !v.Has(asks[0].Field) || !v.Has(asks[1].Field) {
		return seat
	}
	spots := kit.Spots(p)
	ends, _ := kit.FaceEnds(spots)
	f, _ := facts.Seat.Read(seat)
	turn, u := kit.TouchedTurn(p, spots[ends[0]], spots[ends[1]], v.Len(asks[0].Field), v.Len(asks[1].Field))
	f.Turn, f.TurnU = turn, u
	return facts.Seat.Is(f)
}

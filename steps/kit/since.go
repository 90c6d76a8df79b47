package kit

import (
	"fliptrue/steps/fold"
)

// What later walks ask, by the number of the walk.
var (
	SinceRunout     = fold.Since{Walk: 2, What: "the runout of the tools"}
	SinceMark       = fold.Since{Walk: 2, What: "the spindle's mark before the bore"}
	SinceMarkCorner = fold.Since{Walk: 2, What: "the spindle's mark before the corner"}
	SinceLeft       = fold.Since{Walk: 2, What: "a rotation or shift left active by another job"}
	SinceEdited     = fold.Since{Walk: 2, What: "programs edited at the control"}
	SinceWarm       = fold.Since{Walk: 2, What: "how warm the part goes in"}
	SinceTipGap     = fold.Since{Walk: 2, What: "the gap under the tip of a tool"}
	SinceScrewsLeft = fold.Since{Walk: 2, What: "screws left in a part that comes out"}
	SinceFar        = fold.Since{Walk: 3, What: "the far end of the fixture before the next part"}
	SincePlace      = fold.Since{Walk: 3, What: "whether the fixture stands where it was made"}
	SinceWidth      = fold.Since{Walk: 3, What: "the part's widths measured again before it goes in"}
	SinceLever      = fold.Since{Walk: 3, What: "the angle of a dial's stylus that the jog test does not show flat"}
	SinceNear       = fold.Since{Walk: 3, What: "the gap under the tip by a block"}
	SinceHeight     = fold.Since{Walk: 3, What: "the height of the first cut"}
	SinceRise       = fold.Since{Walk: 3, What: "the part's height once the screws are in"}
	SinceAir        = fold.Since{Walk: 3, What: "temperature and humidity on the days of side 1 and side 2"}
	SinceRead       = fold.Since{Walk: 3, What: "what was read in the programs"}
	SinceRaised     = fold.Since{Walk: 2, What: "the raise of the air pass"}
	SinceSet        = fold.Since{Walk: 3, What: "how the screws were set"}
	SinceFaced      = fold.Since{Walk: 3, What: "whether the top is faced already"}
)

// OfWalk3 are the names of what the third walk asks, for who holds records of the first two against what they meant.
var OfWalk3 = []string{SinceFar.What, SincePlace.What, SinceWidth.What, SinceLever.What, SinceFaced.What, SinceNear.What, SinceHeight.What,
	SinceRise.What, SinceAir.What, SinceSet.What, SinceRead.What}

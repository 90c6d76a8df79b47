package steps

// What later walks ask, by the number of the walk.
var (
	sinceRunout     = Since{2, "the runout of the tools"}
	sinceMark       = Since{2, "the spindle's mark before the bore"}
	sinceMarkCorner = Since{2, "the spindle's mark before the corner"}
	sinceLeft       = Since{2, "a rotation or shift left active by another job"}
	sinceEdited     = Since{2, "programs edited at the control"}
	sinceWarm       = Since{2, "how warm the part goes in"}
	sinceTipGap     = Since{2, "the gap under the tip of a tool"}
	sinceScrewsLeft = Since{2, "screws left in a part that comes out"}
	sinceRaised     = Since{2, "the raise of the air pass"}
)

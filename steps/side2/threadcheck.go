package side2

import (
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// threadCheck runs a screw into the threads by fingers and looks for shards.
func threadCheck(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "threads check", Recheck: &fold.Recheck{Before: "screws", Lifts: []fold.FactID{"threads"}},
		Asks: func(fold.View) []fold.Ask {
			return []fold.Ask{{Field: "turns", Label: "turns a screw runs in by fingers, the least of all", Kind: fold.Count,
				What: fold.What{By: "tap", Of: "threads", Dir: "turns"}},
				kit.Counted("shards", "broken bits seen in the threads with a magnifier", "threads", "shards", "0", "A shard strips the thread.",
					"Pick it out with tweezers.")}
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			threadFact(p, v, &o)
			if v.Int("shards") > 0 && len(o.Next) == 0 {
				o.Next = []fold.Act{{Do: "thread", Of: "holes", Words: "Tweezers, not fingers: carbide cuts. Then look again."},
					{Do: "again", Of: "shards"}}
			}
			if len(o.Next) == 0 {
				o.Learned = "The threads take a screw to their full depth."
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "A shard or a half-cut thread lets go under the cut.",
				Act:  "Run a screw into every thread by fingers; look with a magnifier.",
				Read: "The least number of turns.", Caution: "A carbide shard cuts: tweezers, not fingers.", Scene: kit.Scene(p, v, nil)}
		},
	}
}

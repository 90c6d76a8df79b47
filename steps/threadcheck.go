package steps

// threadCheck runs a screw into the threads by fingers and looks for shards.
func threadCheck(p *Plan) *Spec {
	return &Spec{
		Title: "threads check", At: "screws", Lifts: []FactID{"threads"},
		Asks: func(View) []Ask {
			return []Ask{{Field: "turns", Label: "turns a screw runs in by fingers, the least of all", Kind: Count, What: What{By: "tap", Of: "threads", Dir: "turns"}},
				counted("shards", "broken bits seen in the threads with a magnifier", "threads", "shards", "0", "A shard strips the thread.", "Pick it out with tweezers.")}
		},
		Judge: func(v View) Outcome {
			var o Outcome
			p.threadFact(v, &o)
			if v.Int("shards") > 0 && len(o.Next) == 0 {
				o.Next = []Act{{Do: "thread", Of: "holes", Words: "Tweezers, not fingers: carbide cuts. Then look again."}, {Do: "again", Of: "shards"}}
			}
			if len(o.Next) == 0 {
				o.Learned = "The threads take a screw to their full depth."
			}
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "A shard or a half-cut thread lets go under the cut.", Act: "Run a screw into every thread by fingers; look with a magnifier.",
				Read: "The least number of turns.", Caution: "A carbide shard cuts: tweezers, not fingers.", Scene: p.scene(v, nil)}
		},
	}
}

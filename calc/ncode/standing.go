package ncode

// Standing is how a program stands before one of its own lines.
type Standing struct {
	Line  int // that comes next; one more than the last line that ran at the end
	State State
	At    [3]float64 // W, mm; 0 where not known
	Known uint8      // bits of the axes whose place is known
	High  bool       // Z is at the upper end of the travel
	Plain bool       // no zero shift, no turned figure, no parameter of the program's own and no other work offset is in force
	Calls int        // of subprograms so far
}

// stand shows how the program stands, where anybody looks.
func (w *walker) stand() {
	if w.opts.Before == nil {
		return
	}
	s := Standing{Line: w.line, State: w.st, At: w.w, Known: w.wknow, High: w.high, Calls: w.calls,
		Plain: w.f.same && !w.away() && w.parse.params.set == [len(w.parse.params.set)]bool{}}
	w.opts.Before(&s)
}

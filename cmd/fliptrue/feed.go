package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"sync"
	"time"

	"fliptrue/calc/sent"
	"fliptrue/jobs"
	"fliptrue/tui"
)

const (
	feedEvery = 100 * time.Millisecond // how often a growing file is looked at: watchers do not see network shares
	tryEvery  = time.Second            // how often what is gone is looked for
	growMost  = 64 << 10               // bytes at once: hundreds of readings
	feedHolds = 256                    // arrivals that the screen has not fetched yet; more is a flood anyhow
)

// feeds listens to the feeds of a machine card until stop is called. The channel is nil
// where the card names none.
func (e *env) feeds(m jobs.Machine) (out <-chan tui.Arrival, stop func()) {
	if len(m.Feed) == 0 {
		return nil, func() {}
	}
	ch := make(chan tui.Arrival, feedHolds)
	ctx, cancel := context.WithCancel(context.Background())
	var wg sync.WaitGroup
	for name, f := range m.Feed {
		x := &feed{env: e, name: name, card: f, out: ch}
		wg.Go(func() {
			if f.Port != "" {
				x.port(ctx)
				return
			}
			path := filepath.FromSlash(f.File)
			if !filepath.IsAbs(path) {
				path = filepath.Join(filepath.Dir(m.Path), path)
			}
			x.file(ctx, path)
		})
	}
	return ch, func() {
		cancel()
		wg.Wait()
	}
}

// feed is one way on which readings arrive.
type feed struct {
	*env
	name  string
	card  jobs.Feed
	out   chan tui.Arrival
	lines sent.Lines
	gone  string // as it was said
	held  *tui.Arrival
	sent  time.Time // when the newest went out
}

// send hands an arrival to the screen. Where nobody fetches them there are far more than
// a walk can use, and this one is left out.
func (f *feed) send(a tui.Arrival) {
	a.From = f.name
	select {
	case f.out <- a:
	default:
	}
}

// away says once why nothing can come; "" says that it is there again.
func (f *feed) away(why string) {
	switch {
	case why == f.gone:
		return
	case why == "":
		f.send(tui.Arrival{Back: true})
	default:
		f.send(tui.Arrival{Gone: why})
	}
	f.gone = why
}

// take reads a piece that came.
func (f *feed) take(piece []byte) {
	whole, torn := f.lines.Add(piece, f.now())
	for _, err := range torn {
		f.send(tui.Arrival{Why: err.Error()})
	}
	for _, l := range whole {
		ns, err := f.card.Form().Read(l)
		switch {
		case err != nil:
			f.send(tui.Arrival{Why: err.Error()})
		case f.card.Keep == "last":
			f.held = &tui.Arrival{Numbers: ns, Newest: true}
		default:
			f.send(tui.Arrival{Numbers: ns})
		}
	}
	f.newest()
}

// newest sends what an instrument that sends all the time sent last, ten times a second at most.
func (f *feed) newest() {
	if now := f.now(); f.held != nil && now.Sub(f.sent) >= feedEvery {
		f.send(*f.held)
		f.held, f.sent = nil, now
	}
}

// pause waits; false when the listening is over.
func pause(ctx context.Context, d time.Duration) bool {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-ctx.Done():
		return false
	case <-t.C:
		return true
	}
}

// file listens to a text file that grows. What stood in it before is no arrival; one that
// is made later, or is begun again, is read from its beginning.
func (f *feed) file(ctx context.Context, path string) {
	at := int64(-1) // not seen yet
	for first := true; ; first = false {
		size, err := f.disk.Size(path)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			f.away(path + " is not there")
			at, f.lines = 0, sent.Lines{Begun: true}
		case err != nil:
			f.away(path + " cannot be read: " + plainError(err))
		default:
			if first {
				at, err = f.end(path, size)
			} else {
				at, err = f.grown(path, at, size)
			}
			if err != nil {
				f.away(path + " cannot be read: " + plainError(err))
			}
		}
		f.newest()
		if !pause(ctx, feedEvery) {
			return
		}
	}
}

// end begins to listen at the end of a file, which may be within a line.
func (f *feed) end(path string, size int64) (at int64, err error) {
	f.lines = sent.Lines{Begun: true}
	if size == 0 {
		f.away("")
		return 0, nil
	}
	last, err := f.piece(path, size-1, size)
	if err == nil && !lineEnd(last[0]) {
		f.lines.Inside()
	}
	return size, err
}

func lineEnd(b byte) bool { return b == '\n' || b == '\r' }

// grown reads what came to a file since it was this long.
func (f *feed) grown(path string, at, size int64) (int64, error) {
	switch {
	case at < 0: // it could not be read until now
		return f.end(path, size)
	case size == at:
		f.away("")
		return at, nil
	case size < at: // begun again
		at, f.lines = 0, sent.Lines{Begun: true}
		return f.grown(path, at, size)
	case size-at > growMost:
		f.send(tui.Arrival{Why: fmt.Sprintf("%d bytes at once in %s: no readings", size-at, filepath.Base(path))})
		return f.end(path, size)
	}
	from := max(at-1, 0) // with the last one that was seen: it tells whether the file is still that one
	b, err := f.piece(path, from, size)
	if err != nil {
		return at, err
	}
	if at > 0 {
		if f.lines.Fresh() && !lineEnd(b[0]) {
			f.lines.Inside()
		}
		b = b[1:]
	}
	f.take(b)
	return size, nil
}

func (f *feed) piece(path string, from, to int64) ([]byte, error) {
	src, err := f.disk.Open(path)
	if err != nil {
		return nil, err
	}
	defer src.Close()
	b := make([]byte, to-from)
	if _, err := src.ReadAt(b, from); err != nil {
		return nil, err
	}
	f.away("")
	return b, nil
}

// port listens to a serial line, and opens it again after it was unplugged.
func (f *feed) port(ctx context.Context) {
	f.lines.Timed = true
	buf := make([]byte, 4096)
	for {
		p, err := f.openPort(f.card)
		if err != nil {
			f.away(f.card.Port + " cannot be opened: " + plainError(err))
			if !pause(ctx, tryEvery) {
				return
			}
			continue
		}
		f.away("")
		f.lines.Listen(f.now())
		for err = nil; err == nil && ctx.Err() == nil; {
			var n int
			n, err = p.Read(buf) // within feedEvery, with nothing where nothing came
			f.take(buf[:n])
		}
		p.Close() // nothing was written to it
		if ctx.Err() != nil {
			return
		}
		f.away(f.card.Port + " was unplugged")
		if !pause(ctx, tryEvery) {
			return
		}
	}
}

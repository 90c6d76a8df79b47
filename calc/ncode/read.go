package ncode

import (
	"bytes"
	"context"
	"errors"
	"io"
	"runtime"
)

// blockSize is how much is read at a time: small enough for the second-level
// cache with its words, large enough that handing it over costs nothing.
const blockSize = 64 << 10

// cutter cuts a stream into blocks of whole lines. A line that is too long is cut
// off and the rest of it is dropped unread into any line.
type cutter struct {
	r     io.Reader
	size  int
	carry []byte // the beginning of a line whose end has not come yet
	skip  bool   // in the rest of a line that was too long
	began bool
	read  int64
	done  bool
}

// next fills b.text with the next whole lines; false at the end of the input.
func (c *cutter) next(b *block) bool {
	b.over, b.err = false, nil
	for !c.done {
		if room := c.size + 2*maxLine + 4; cap(b.text) < room {
			b.text = make([]byte, 0, room)
		}
		t := append(b.text[:0], c.carry...)
		kept := len(t)
		n, err := readSome(c.r, t[kept:kept+c.size])
		t = t[:kept+n]
		c.carry = c.carry[:0]
		b.at = c.read - int64(kept)
		c.read += int64(n)
		b.end = c.read
		c.done = err != nil
		if err != nil && err != io.EOF {
			b.err = err
		}
		if !c.began {
			// A byte order mark says nothing here.
			c.began = len(t) > 0
			if u, ok := bytes.CutPrefix(t, []byte("\xef\xbb\xbf")); ok {
				t, b.at = u, b.at+3
			}
		}
		if c.skip {
			u := c.skipped(t)
			b.at += int64(len(t) - len(u))
			t = u
		}
		end := len(t)
		if c.done {
			if end > 0 && t[end-1] != '\n' && t[end-1] != '\r' {
				t = append(t, '\n')
			}
			b.text = t
			return len(t) > 0 || b.err != nil
		}
		// Keep what follows the last line end; a CR at the very end may be half of a CR LF.
		for end > 0 && t[end-1] != '\n' && (t[end-1] != '\r' || end == len(t)) {
			end--
		}
		if rest := t[end:]; len(rest) > maxLine+1 {
			// One line past the limit: it is reported with its beginning.
			c.skip, b.over = true, true
			if rest[len(rest)-1] == '\r' {
				c.carry = append(c.carry, '\r')
			}
			t = append(t[:end+maxLine+1], '\n')
			end = len(t)
		} else {
			c.carry = append(c.carry, rest...)
		}
		if b.text = t[:end]; end > 0 {
			return true
		}
	}
	return false
}

// skipped returns what of t follows the end of a line that was too long.
func (c *cutter) skipped(t []byte) []byte {
	i := bytes.IndexAny(t, "\r\n")
	switch {
	case i < 0:
		return t[:0]
	case t[i] == '\r' && i+1 == len(t) && !c.done:
		c.carry = append(c.carry, '\r')
		return t[:0]
	case t[i] == '\r' && i+1 < len(t) && t[i+1] == '\n':
		i++
	}
	c.skip = false
	return t[i+1:]
}

// readSome fills p as far as the reader gives, so that blocks are full.
func readSome(r io.Reader, p []byte) (n int, err error) {
	for empty := 0; n < len(p); {
		var k int
		k, err = r.Read(p[n:])
		if k < 0 || k > len(p)-n {
			return n, errors.New("the reader returned a count that is out of range")
		}
		n += k
		if err != nil {
			return n, err
		}
		if k == 0 {
			if empty++; empty > 100 {
				return n, io.ErrNoProgress
			}
		} else {
			empty = 0
		}
	}
	return n, nil
}

// source gives lexed blocks in order; nil at the end. A block is good until the next call.
type source interface{ next() *block }

// plain is the source without goroutines, for subprograms.
type plain struct {
	c cutter
	b block
}

func (p *plain) next() *block {
	if !p.c.next(&p.b) {
		return nil
	}
	p.b.lex()
	return &p.b
}

// pipe is the source that reads and lexes ahead of the walk.
type pipe struct {
	order chan *block // as read; each is ready when its channel says so
	free  chan *block
	stop  chan struct{}
	ended chan struct{}
	last  *block
}

// newPipe starts reading r. close must be called; it waits for a read in progress.
func newPipe(r io.Reader) *pipe {
	workers := min(max(runtime.GOMAXPROCS(0), 1), 4)
	depth := 2*workers + 2
	p := &pipe{
		order: make(chan *block, depth), free: make(chan *block, depth),
		stop: make(chan struct{}), ended: make(chan struct{}),
	}
	for range depth {
		p.free <- &block{ready: make(chan struct{}, 1)}
	}
	work := make(chan *block, depth)
	for range workers {
		go func() {
			for b := range work {
				b.lex()
				b.ready <- struct{}{}
			}
		}()
	}
	go func() {
		defer close(p.ended)
		defer close(p.order)
		defer close(work)
		c := cutter{r: r, size: blockSize}
		for {
			var b *block
			select {
			case <-p.stop:
				return
			case b = <-p.free:
			}
			if !c.next(b) {
				return
			}
			// Both have room for every block there is.
			work <- b
			p.order <- b
		}
	}()
	return p
}

func (p *pipe) next() *block {
	if p.last != nil {
		p.free <- p.last
		p.last = nil
	}
	b, ok := <-p.order
	if !ok {
		return nil
	}
	<-b.ready
	p.last = b
	return b
}

func (p *pipe) close() {
	close(p.stop)
	<-p.ended
}

// canceled reports whether ctx has ended, without blocking.
func canceled(ctx context.Context) bool { return ctx.Err() != nil }

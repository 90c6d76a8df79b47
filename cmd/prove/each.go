package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"time"
)

// each does n cases, several at a time, and shows how far it is. The first error ends it.
// A case writes only what is its own: the order of the cases then makes no difference.
func each(ctx context.Context, o options, what string, n int, do func(i int) error) error {
	return eachOf(ctx, o, what, 0, n, n, do)
}

// eachOf does n cases of all, where from were done before: the bar is one for all.
func eachOf(ctx context.Context, o options, what string, from, n, all int, do func(i int) error) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	var next, done atomic.Int64
	stop := progress(o.stderr, o.of+what, from, all, &done)
	var wg sync.WaitGroup
	for range min(o.workers, n) {
		wg.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				if err := do(i); err != nil {
					cancel(err)
					return
				}
				done.Add(1)
			}
		})
	}
	wg.Wait()
	stop()
	return context.Cause(ctx)
}

// atTerminal says that somebody looks at what is written.
func atTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	i, err := f.Stat()
	return err == nil && i.Mode()&os.ModeCharDevice != 0
}

// progress draws a bar until it is stopped: from and what is done, of all.
func progress(w io.Writer, what string, from, all int, done *atomic.Int64) (stop func()) {
	if all < 2 || !atTerminal(w) {
		return func() {}
	}
	began, end := time.Now(), make(chan struct{})
	draw := func() {
		const wide = 30
		d := int(done.Load())
		full := wide * (from + d) / all
		left := ""
		if spent := time.Since(began); d > 0 && from+d < all && spent > time.Second {
			left = fmt.Sprintf(" %.0f s left", spent.Seconds()*float64(all-from-d)/float64(d))
		}
		fmt.Fprintf(w, "\r%-18s [%s%s] %d of %d%-14s", what, strings.Repeat("#", full), strings.Repeat(".", wide-full), from+d, all, left)
	}
	var wg sync.WaitGroup
	wg.Go(func() {
		tick := time.NewTicker(500 * time.Millisecond)
		defer tick.Stop()
		for {
			draw()
			select {
			case <-end:
				draw()
				if from+int(done.Load()) >= all || what == "" {
					fmt.Fprintln(w)
				}
				return
			case <-tick.C:
			}
		}
	})
	return func() { close(end); wg.Wait() }
}

package fold

import (
	"fmt"
	"testing"
)

// What was worked out is kept for the newest keys only, and worked out once while it is.
func TestFilesKeepTheNewest(t *testing.T) {
	f, n := &Files{}, 0
	for i := range 2 * maxMemo {
		for range 2 {
			if got := f.Once(fmt.Sprint(i), func() any { n++; return i }); got != i {
				t.Fatalf("key %d gives %v", i, got)
			}
		}
	}
	if n != 2*maxMemo || len(f.memo) != maxMemo || len(f.keys) != maxMemo {
		t.Errorf("%d workings, %d kept, %d keys", n, len(f.memo), len(f.keys))
	}
}

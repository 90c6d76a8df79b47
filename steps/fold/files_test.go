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

// A key that is wanted again and again is worked out once, whatever comes between.
func TestFilesKeepWhatIsWanted(t *testing.T) {
	f, n := &Files{}, 0
	for i := range 3 * maxMemo {
		f.Once("again", func() any { n++; return 0 })
		f.Once(fmt.Sprint(i), func() any { return i })
	}
	if n != 1 {
		t.Errorf("worked out %d times", n)
	}
}

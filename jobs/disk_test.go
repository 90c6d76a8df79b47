package jobs

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

// A long file is read a piece at a time, from any place of it, on either disk.
func TestOpenReadsByPieces(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "top.nc")
	if err := os.WriteFile(path, []byte("G21 G90\nM30\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, d := range map[string]Disk{"os": OS(), "mem": Mem(map[string]string{path: "G21 G90\nM30\n"})} {
		f, err := d.Open(path)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var three [3]byte
		if _, err := f.ReadAt(three[:], 8); err != nil || string(three[:]) != "M30" {
			t.Errorf("%s: at 8 stands %q, %v", name, three, err)
		}
		if all, err := io.ReadAll(f); err != nil || string(all) != "G21 G90\nM30\n" {
			t.Errorf("%s: reads %q, %v", name, all, err)
		}
		if err := f.Close(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if f, err := d.Open(path + "x"); !errors.Is(err, fs.ErrNotExist) || f != nil {
			t.Errorf("%s: a file that is not there opens as %v, %v", name, f, err)
		}
	}
	if _, err := OS().Open(dir); !errors.Is(err, errNotRegular) {
		t.Errorf("a folder opens: %v", err)
	}
}

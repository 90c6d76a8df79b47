package prove

import (
	"archive/zip"
	"bytes"
	"fmt"
	"math/rand/v2"
	"slices"
)

// What the nets alone use.

// Zip packs texts by name, the same bytes for the same texts.
func Zip(texts map[string][]byte) ([]byte, error) {
	var names []string
	for n := range texts {
		names = append(names, n)
	}
	slices.Sort(names)
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, n := range names {
		f, err := z.CreateHeader(&zip.FileHeader{Name: n, Method: zip.Deflate})
		if err != nil {
			return nil, err
		}
		if _, err := f.Write(texts[n]); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}

// Difference is the first line in which two texts differ, with what stands before it; "" when they are equal.
func Difference(want, got Text) string {
	a, b := bytes.Split(want, []byte("\n")), bytes.Split(got, []byte("\n"))
	head := ""
	for i := 0; i < max(len(a), len(b)); i++ {
		var x, y []byte
		if i < len(a) {
			x = a[i]
		}
		if i < len(b) {
			y = b[i]
		}
		if !bytes.Equal(x, y) {
			return fmt.Sprintf("line %d, under %q:\n  was %s\n  is  %s", i+1, head, x, y)
		}
		if len(x) > 0 && x[0] != ' ' && x[0] != '~' {
			head = string(x)
		}
	}
	return ""
}

// DrawNext is Draw where the walk takes over what the part before left.
func DrawNext(seed uint64) (*Walked, error) {
	return draw(seed, rand.New(rand.NewPCG(seed, 0x517f)), []string{"side2", "next"})
}

// TookOver says that the record begins with facts of the part before.
func (w *Walked) TookOver() bool {
	return len(w.Events) > 0 && w.Events[0].Cards["taken.bore"] != ""
}

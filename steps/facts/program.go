package facts

import (
	"strconv"
)

// A program's fact ends in the checksum of the file that was read: its first 48 bits in three numbers.
const sumWords = 3

// WithSum is the fact of a file with that checksum, hex digits.
func (f ProgramFact) WithSum(sum string) ProgramFact {
	f.Box = append(f.Box[:len(f.Box):len(f.Box)], words(sum)...)
	return f
}

// Summed says that the checksum is known; it is not in records of before.
func (f ProgramFact) Summed() bool { return len(f.Box)%6 == sumWords }

// Sums says that a file with that checksum is the one.
func (f ProgramFact) Sums(sum string) bool {
	w := words(sum)
	for i, x := range f.Box[len(f.Box)-len(f.Box)%6:] {
		if len(w) != sumWords || x != w[i] {
			return false
		}
	}
	return f.Summed()
}

// words are the first 48 bits of a checksum, 16 to a number; none of a text that is no checksum.
func words(sum string) (out []float64) {
	for i := 0; i < 4*sumWords && len(sum) >= 4*sumWords; i += 4 {
		n, err := strconv.ParseUint(sum[i:i+4], 16, 16)
		if err != nil {
			return nil
		}
		out = append(out, float64(n))
	}
	return out
}

package prove

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"strings"

	"fliptrue/jobs"
)

// Kept is a record that was kept, with what it is folded by.
type Kept struct {
	Name     string
	Programs string    // as Programs takes it
	Job      *jobs.Job // where the record copies none
	Events   []jobs.Event
}

const programsLine = "# programs: "

// Keep is the text of a walk's record: a comment says which programs lay beside it.
func (w *Walked) Keep() ([]byte, error) {
	var b bytes.Buffer
	b.WriteString("--- {format: 1}\n" + programsLine + w.Programs + "\n")
	for _, s := range w.Told {
		fmt.Fprintf(&b, "# %s\n", strings.ReplaceAll(s, "\n", " "))
	}
	for _, e := range w.Events {
		line, err := jobs.Encode(e)
		if err != nil {
			return nil, err
		}
		b.Write(line)
	}
	return b.Bytes(), nil
}

// ReadKept reads a record as Keep wrote it.
func ReadKept(name string, text []byte) (Kept, error) {
	k := Kept{Name: name, Programs: "none"}
	if _, rest, ok := strings.Cut(string(text), programsLine); ok {
		k.Programs, _, _ = strings.Cut(rest, "\n")
	}
	es, _, fs := jobs.ReadRecord(jobs.Mem(map[string]string{name: string(text)}), name)
	k.Events = es
	return k, fs.Err()
}

// Unzip gives back what Zip packed.
func Unzip(data []byte) (map[string][]byte, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	out := map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			return nil, err
		}
		b, err := io.ReadAll(r)
		r.Close()
		if err != nil {
			return nil, err
		}
		out[f.Name] = b
	}
	return out, nil
}

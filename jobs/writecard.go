package jobs

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Writeback is what a record has to write to a card.
type Writeback struct {
	// Key names what is written, once for ever: the record's name, and for something
	// that one record may write several times the place in it: "lid.1", "lid.1#212".
	Key string
	Set map[string]string // values by their path: probe.radius, tram.x
	Add map[string]int    // counts to raise: uses, threads.cycles
	// Kept stands under history alone, by words of its own: what a use of a fixture found of it.
	Kept map[string]string
}

// WriteCard writes values to a machine or fixture card. The card is rewritten whole or
// not at all. Everything else in it, comments and layout too, stays as it is. What was
// written is kept under history with its Key; a Key found there means that it is done,
// and nothing is written. The error is Faults when the card, or what it would become,
// does not read well; *LockedError or *DiskError otherwise.
func WriteCard(d Disk, path string, w Writeback) error {
	if w.Key == "" {
		panic("jobs: a card is written under a key")
	}
	// A card shared through a link is one card: it is written and locked where it lies.
	if real, err := d.Resolve(path); err == nil {
		path = real
	}
	lock, err := lockCard(d, path, w.Key)
	if err != nil {
		return err
	}
	defer lock.Close()
	data, faults := slurp(d, path, "put the card back, or correct its name in the job")
	if len(faults) > 0 {
		return faults
	}
	old, done, faults := cardLeaves(path, data, w.Key)
	if len(faults) > 0 {
		return faults.Err()
	}
	if done {
		// The time before may have failed between the renaming and making it last.
		if err := d.SyncDir(filepath.Dir(path)); err != nil {
			return diskError("write", path, err)
		}
		return nil
	}
	values, faults := w.values(path, old)
	if len(faults) > 0 {
		return faults
	}
	want := maps.Clone(old)
	maps.Copy(want, values)
	next, err := w.into(path, data, values)
	if err != nil {
		return err
	}
	got, done, faults := cardLeaves(path, next, w.Key)
	if len(faults) > 0 {
		return faults
	}
	entryOrder := func(p, _ string) bool { return strings.HasSuffix(p, "."+order) } // a new entry changes it
	maps.DeleteFunc(got, entryOrder)
	maps.DeleteFunc(want, entryOrder)
	if !done || !maps.Equal(got, want) {
		return Faults{{File: path, What: "card cannot be written without changing something else in it",
			Hint: "write it in the simple form that fliptrue new --card makes"}}
	}
	if err := replace(d, path, next); err != nil {
		return diskError("write", path, err)
	}
	return nil
}

// lockCard holds a card for the one who writes it.
func lockCard(d Disk, path, key string) (io.Closer, error) {
	lock, err := d.Lock(lockPath(d, path), "a process writing "+key)
	if err != nil {
		var held *LockedError
		if errors.As(err, &held) {
			held.Path = path
			return nil, held
		}
		return nil, diskError("lock", path, err)
	}
	return lock, nil
}

// values are what the keys of a card shall be.
func (w Writeback) values(path string, old map[string]string) (map[string]string, Faults) {
	values := maps.Clone(w.Set)
	if values == nil {
		values = map[string]string{}
	}
	for p, n := range w.Add {
		now, err := 0, error(nil)
		if text, ok := old[p]; ok {
			if now, err = strconv.Atoi(text); err != nil {
				return nil, Faults{{File: path, What: label(p) + quote(text) + " is not a plain count", Hint: "write it as digits"}}
			}
		}
		values[p] = strconv.Itoa(now + n)
	}
	return values, nil
}

// into writes the values into a card's text, and again, with what is kept, into its entry under history.
func (w Writeback) into(path string, text []byte, values map[string]string) (next []byte, err error) {
	all, entry := maps.Clone(values), join("history", w.Key)
	for p, v := range values {
		all[join(entry, p)] = v
	}
	for word, v := range w.Kept {
		all[join(entry, word)] = v
	}
	next = text
	for _, p := range slices.Backward(slices.Sorted(maps.Keys(all))) {
		if next, err = setValue(path, next, strings.Split(p, "."), all[p]); err != nil {
			return nil, err
		}
	}
	return signComments(path, next, slices.Sorted(maps.Keys(w.Set)))
}

// cardLeaves reads a card, whichever it is, and returns its values without history,
// and whether key stands there.
func cardLeaves(path string, data []byte, key string) (map[string]string, bool, Faults) {
	root, fs := parseTree(path, data)
	if len(fs) > 0 {
		return nil, false, fs
	}
	var leaves map[string]string
	var history []Change
	if child(root, "fixture") != nil {
		f, _, faults := parseFixture(path, data)
		leaves, history, fs = f.leaves, f.History, faults
	} else {
		m, faults := readMachine(path, data)
		leaves, history, fs = m.leaves, m.History, faults
	}
	leaves = maps.Clone(leaves)
	maps.DeleteFunc(leaves, func(p, _ string) bool { return p == "history" || strings.HasPrefix(p, "history.") })
	return leaves, slices.ContainsFunc(history, func(c Change) bool { return c.Key == key }), fs
}

// child is the value of a key in a mapping, nil when it is not there.
func child(n *yamlNode, key string) *yamlNode {
	if n.Kind == sequenceNode {
		if i, err := strconv.Atoi(key); err == nil && i >= 0 && i < len(n.Content) {
			return n.Content[i]
		}
		return nil
	}
	for i := 0; n.Kind == mappingNode && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

// setValue puts a text at a path by changing only the bytes of that value, or by
// putting a new key before the others of its group (at the end of the file at the top).
func setValue(file string, data []byte, path []string, text string) ([]byte, error) {
	root, faults := parseTree(file, data)
	if len(faults) > 0 {
		return nil, faults
	}
	at := func(n *yamlNode) int { return placeOf(data, n) }
	insert := func(i int, s string) []byte { return slices.Concat(data[:i], []byte(s), data[i:]) }
	n := root
	for i, part := range path {
		c := child(n, unescape(part))
		if c != nil {
			n = c
			continue
		}
		if n.Kind != mappingNode {
			return nil, cannotWrite(file, path, "there is no group of keys to put it in")
		}
		s := plainOrQuoted(text)
		for j := len(path) - 1; j > i; j-- {
			if k, err := strconv.Atoi(path[j]); err == nil { // a number of a list that is not there yet
				s = "[" + strings.Repeat("0, ", k) + s + "]"
				continue
			}
			s = "{" + plainOrQuoted(unescape(path[j])) + ": " + s + "}"
		}
		key := plainOrQuoted(unescape(part)) + ": "
		eol := "\n"
		if strings.Contains(string(data), "\r\n") {
			eol = "\r\n"
		}
		switch {
		case n.Style&flowStyle != 0 && len(n.Content) == 0:
			return insert(at(n)+1, key+s), nil
		case n.Style&flowStyle != 0:
			return insert(at(n.Content[0]), key+s+", "), nil
		case n == root:
			end := eol
			if len(data) > 0 && (data[len(data)-1] == '\n' || data[len(data)-1] == '\r') {
				end = ""
			}
			indent := strings.Repeat(" ", n.Content[0].Column-1)
			if (part == "history" || part == "found" || part == "seen") && len(path) == 3 {
				s = eol + indent + "  " + plainOrQuoted(unescape(path[1])) + ": {" + plainOrQuoted(unescape(path[2])) + ": " + plainOrQuoted(text) + "}"
				key = part + ":"
			}
			return append(slices.Clone(data), end+indent+key+s+eol...), nil
		default:
			first := n.Content[0]
			return insert(at(first), key+s+eol+strings.Repeat(" ", first.Column-1)), nil
		}
	}
	start, length, err := token(file, data, path, n)
	if err != nil {
		return nil, err
	}
	return slices.Concat(data[:start], []byte(plainOrQuoted(text)), data[start+length:]), nil
}

// token is where the bytes of a scalar begin in a file and how many they are.
func token(file string, data []byte, path []string, n *yamlNode) (start, length int, err error) {
	if n.Kind != scalarNode {
		return 0, 0, cannotWrite(file, path, "there is a group of values")
	}
	start = placeOf(data, n)
	if length = tokenLength(data[start:], n); length < 0 {
		return 0, 0, cannotWrite(file, path, "its value runs over several lines")
	}
	return start, length, nil
}

// placeOf is where a node begins in the bytes of its file.
func placeOf(data []byte, n *yamlNode) int {
	bom := len(data) - len(strings.TrimPrefix(string(data), "\xef\xbb\xbf"))
	return bom + offset(data[bom:], n.Line, n.Column)
}

func cannotWrite(file string, path []string, why string) error {
	return Faults{{File: file, What: label(strings.Join(path, ".")) + "cannot be written: " + why,
		Hint: "write it in the simple form that fliptrue new makes"}}
}

// tokenLength is how many bytes a scalar takes in the file, -1 when it cannot be told.
func tokenLength(b []byte, n *yamlNode) int {
	switch n.Style {
	case 0:
		if strings.HasPrefix(string(b), n.Value) {
			return len(n.Value)
		}
	case doubleQuoted:
		for i := 1; i < len(b); i++ {
			switch b[i] {
			case '\\':
				i++
			case '"':
				return i + 1
			}
		}
	case singleQuoted:
		for i := 1; i < len(b); i++ {
			if b[i] == '\'' {
				if i+1 == len(b) || b[i+1] != '\'' {
					return i + 1
				}
				i++
			}
		}
	}
	return -1
}

// offset turns line and column, both from 1, into a place in the bytes.
func offset(data []byte, line, column int) int {
	i := 0
	for ; line > 1 && i < len(data); i++ {
		if data[i] == '\n' || data[i] == '\r' && (i+1 == len(data) || data[i+1] != '\n') {
			line--
		}
	}
	for ; column > 1 && i < len(data); column-- {
		_, n := utf8.DecodeRune(data[i:])
		i += n
	}
	return i
}

// plainOrQuoted writes a text as YAML, without quotes where it needs none: numbers with
// their units, and words.
func plainOrQuoted(s string) string {
	alnum := func(c byte) bool { return letter(c) || '0' <= c && c <= '9' }
	n := len(s)
	first := n > 0 && (alnum(s[0]) || n > 1 && strings.IndexByte("+-.", s[0]) >= 0 && '0' <= s[1] && s[1] <= '9')
	if first && alnum(s[n-1]) && !isWord(s) && strings.Trim(s, plainSet) == "" {
		return s
	}
	return string(appendQuoted(nil, s))
}

// plainSet are characters that mean nothing to YAML inside a text.
const plainSet = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 ./_-+"

// WriteFile writes a new file whole and makes it last. A file that is there is an
// error: nothing of a person's is ever written over.
func WriteFile(d Disk, path string, data []byte) error {
	return made(path, create(d, path, data))
}

// made is the error of making a file, in words.
func made(path string, err error) error {
	if errors.Is(err, fs.ErrExist) {
		return &DiskError{"make", path, fmt.Sprintf("%s is already there", quote(path)), "choose another name, or move the old file away", err}
	}
	if err != nil {
		return diskError("write", path, err)
	}
	return nil
}

// WriteFiles writes files by name into a folder. Those that stand there with the same bytes are
// left alone; any other one there is an error, as with WriteFile. They can be read at once, and
// last when last returns nil: it is to be called once, and may wait for a slow disk.
func WriteFiles(d Disk, dir string, texts map[string]string) (last func() error, err error) {
	open := map[string]File{} // written, not known to last
	last = func() error {
		var err error
		for _, path := range slices.Sorted(maps.Keys(open)) {
			if err = cmp.Or(err, made(path, cmp.Or(open[path].Sync(), open[path].Close()))); err != nil {
				_ = d.Remove(path)
			}
		}
		return cmp.Or(err, made(dir, d.SyncDir(dir)))
	}
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		path, text := filepath.Join(dir, name), texts[name]
		if old, err := d.Read(path, int64(len(text))); err == nil && string(old) == text {
			continue
		}
		f, err := d.Create(path)
		if err == nil {
			open[path] = f
			if err = writeOnly(f, []byte(text)); err != nil {
				_ = d.Remove(path)
			}
		}
		if err != nil {
			_ = last()
			return nil, made(path, err)
		}
	}
	return last, nil
}

// Rewrite puts new bytes in the place of a file of a person's, whole or not at all.
func Rewrite(d Disk, path string, data []byte) error {
	if real, err := d.Resolve(path); err == nil {
		path = real
	}
	if err := replace(d, path, data); err != nil {
		return diskError("write", path, err)
	}
	return nil
}

// replace puts new bytes in the place of a file, whole or not at all: a file beside it,
// synced before it takes the name, since a name may last where its bytes do not.
func replace(d Disk, path string, data []byte) error {
	dir, base := filepath.Split(path)
	temp := filepath.Join(dir, "."+base+".new")
	f, err := d.Create(temp)
	if errors.Is(err, fs.ErrExist) {
		// Left by a crash; the lock says that nobody is writing it now.
		if err = d.Remove(temp); err == nil {
			f, err = d.Create(temp)
		}
	}
	if err != nil {
		return err
	}
	err = writeAll(f, data)
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = d.Rename(temp, path)
	}
	if err != nil {
		_ = d.Remove(temp)
		return err
	}
	return d.SyncDir(filepath.Dir(path))
}

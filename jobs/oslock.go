package jobs

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/gofrs/flock"
)

// errNotLock is a link, a pipe or a folder where a lock file should be: following it
// would write into a file that is none of ours, or wait for ever.
var errNotLock = errors.New("not a lock file")

// errLockMoved is a lock file that was exchanged while it was being locked.
var errLockMoved = errors.New("the lock file was exchanged meanwhile")

// Lock leaves the lock file in place when closed: removing it would let two
// processes hold locks on two files of one name. What stands at its place is never
// followed: a link or a pipe there is refused.
func (osDisk) Lock(path, who string) (io.Closer, error) {
	err := errLockMoved
	for try := 0; try < 3 && errors.Is(err, errLockMoved); try++ {
		var l *osLock
		if l, err = lockFile(path); err == nil {
			l.say(who)
			return l, nil
		}
	}
	if errors.Is(err, errNotLock) {
		base := quote(filepath.Base(path))
		return nil, &DiskError{"lock", path, base + " is a link, a pipe or a folder where the lock file should be",
			"look at who put it there, take it away, and open this again", err}
	}
	return nil, err
}

func lockFile(path string) (*osLock, error) {
	// Made on its own, exclusively: where links cannot be refused on opening, making
	// with O_EXCL does not follow one.
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
	if err == nil {
		f.Close()
	} else if !errors.Is(err, fs.ErrExist) {
		return nil, err
	}
	if err := plainFile(path); err != nil {
		return nil, err
	}
	flags := os.O_RDWR | asItStands
	f, err = os.OpenFile(path, flags, 0)
	if errors.Is(err, fs.ErrPermission) {
		// Another user's: the lock holds for both, only our name cannot be left in it.
		flags = os.O_RDONLY | asItStands
		f, err = os.OpenFile(path, flags, 0)
	}
	if err != nil {
		return nil, err
	}
	l := &osLock{flock.New(path, flock.SetFlag(flags)), f}
	got, err := l.lock.TryLock()
	switch {
	case err != nil:
		f.Close()
		return nil, err
	case !got:
		f.Close()
		return nil, &LockedError{path, holder(path)}
	}
	// What was locked, what we write into and what has the name are one plain file.
	if mine, err := f.Stat(); err != nil || !l.is(mine) || !isAt(path, mine) {
		l.Close()
		return nil, errLockMoved
	}
	return l, nil
}

// plainFile refuses what is no plain file, the link itself and not what it points to.
func plainFile(path string) error {
	info, err := os.Lstat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return errLockMoved
	}
	if err == nil && !info.Mode().IsRegular() {
		err = errNotLock
	}
	return err
}

func isAt(path string, mine os.FileInfo) bool {
	info, err := os.Lstat(path)
	return err == nil && os.SameFile(info, mine)
}

// osLock is a lock and the same file opened for the name of its holder.
type osLock struct {
	lock *flock.Flock
	file *os.File
}

func (l *osLock) is(mine os.FileInfo) bool {
	info, err := l.lock.Stat()
	return err == nil && info.Mode().IsRegular() && os.SameFile(info, mine)
}

// say leaves the holder's name. It is a courtesy; the lock stands without it.
func (l *osLock) say(who string) {
	if l.file.Truncate(0) == nil {
		_, _ = l.file.WriteAt([]byte(who+"\n"), 0)
	}
}

func (l *osLock) Close() error {
	_ = l.file.Truncate(0) // nobody holds it from here on
	err := l.lock.Close()
	l.file.Close()
	return err
}

// holder is what the holder of a lock wrote about itself, fit for a terminal.
func holder(path string) string {
	f, err := os.OpenFile(path, os.O_RDONLY|asItStands, 0)
	if err != nil {
		return ""
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, maxText))
	if err != nil {
		return ""
	}
	return plain(string(b))
}

// plain keeps the printing characters of a text.
func plain(s string) string {
	out := make([]rune, 0, len(s))
	for _, r := range s {
		if printable(r) && r != '\uFFFD' {
			out = append(out, r)
		}
	}
	return string(out)
}

package fold

import (
	"slices"
	"strings"
	"sync"
)

// ProgramFile is an NC program as it stands on disk now.
type ProgramFile struct {
	Name string
	Hash string
	Data []byte
}

// Files are the programs beside a job by role, and what was worked out from them. Plans of one
// job share it. It keeps nothing but what can be computed again.
type Files struct {
	mu     sync.Mutex
	byRole map[string]ProgramFile
	roles  map[string]bool
	look   func(role string, was ProgramFile) (ProgramFile, bool) // as it lies there now, nil where nobody looks

	memo map[string]any
	keys []string // of memo, the one wanted last stands last
}

// of is the program of a role as it was read last.
func (f *Files) of(role string) (ProgramFile, bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	p, ok := f.byRole[role]
	return p, ok
}

// again reads what changed since.
func (f *Files) again() {
	if f.look == nil {
		return
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	now := map[string]ProgramFile{}
	for role := range f.roles {
		if p, ok := f.look(role, f.byRole[role]); ok {
			now[role] = p
		}
	}
	f.byRole = now
}

// maxMemo bounds what is kept.
const maxMemo = 48

// Once is what work gives for a key, worked out once while it is among those wanted last.
func (f *Files) Once(key string, work func() any) any {
	f.mu.Lock()
	defer f.mu.Unlock()
	if v, ok := f.memo[key]; ok {
		i := slices.Index(f.keys, key) // what is wanted again and again stays
		f.keys = append(slices.Delete(f.keys, i, i+1), key)
		return v
	}
	v := work()
	if f.memo == nil {
		f.memo = map[string]any{}
	}
	if len(f.keys) >= maxMemo {
		delete(f.memo, f.keys[0])
		f.keys = f.keys[1:]
	}
	f.memo[key] = v
	f.keys = append(f.keys, key)
	return v
}

func ProgramCard(setup, role string) string { return "program." + setup + "." + role + ".hash" }

// PostedPrograms are the checksums by role that a record carries of a setup's programs.
func PostedPrograms(cards map[string]string, setup string) map[string]string {
	out := map[string]string{}
	for k, v := range cards {
		if role, ok := strings.CutPrefix(k, "program."+setup+"."); ok {
			if role, ok = strings.CutSuffix(role, ".hash"); ok {
				out[role] = v
			}
		}
	}
	return out
}

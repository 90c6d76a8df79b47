package jobs

import "errors"

// FromFlat rebuilds a job from the flat values that a record's begin copied.
func FromFlat(map[string]string) (*Job, error) { return nil, errors.New("not written yet") }

package steps

import (
	"fliptrue/steps/checks"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// What the measuring program still names here; every other room names the one that a thing lives in.
type (
	Act           = fold.Act
	Ask           = fold.Ask
	AskKind       = fold.AskKind
	Cause         = fold.Cause
	Check         = fold.Check
	Class         = fold.Class
	Cursor        = fold.Cursor
	Entry         = fold.Entry
	Fact          = fold.Known
	FactID        = fold.FactID
	FeatureError  = kit.FeatureError
	Limit         = fold.Limit
	Log           = fold.Log
	Mishap        = fold.Mishap
	MishapID      = fold.MishapID
	Outcome       = fold.Outcome
	Page          = fold.Page
	Pause         = fold.Pause
	Plan          = fold.Plan
	ProgramFile   = fold.ProgramFile
	ProgramReport = desk.ProgramReport
	Role          = fold.Role
	Round         = fold.Round
	Row           = fold.Row
	RunPlot       = fold.RunPlot
	Scene         = fold.Scene
	Seq           = fold.Seq
	Shape         = fold.Shape
	Spec          = fold.Spec
	Standing      = fold.Standing
	State         = fold.State
	StepID        = fold.StepID
	StepState     = fold.StepState
	Taken         = fold.Taken
	Trouble       = fold.Trouble
	Verdict       = fold.Verdict
	What          = fold.What
)

const (
	BySelf        = fold.BySelf
	Choice        = fold.Choice
	Count         = fold.Count
	Current       = fold.Current
	DeepestCut    = desk.DeepestCut
	Echo          = fold.Echo
	Estimate      = desk.Estimate
	Fail          = fold.Fail
	Hard          = fold.Hard
	Never         = fold.Never
	NotApplicable = fold.NotApplicable
	NotProven     = fold.NotProven
	Pass          = fold.Pass
	Reading       = fold.Reading
	RoleBore      = fold.RoleBore
	RoleClamp     = fold.RoleClamp
	RoleConflict  = fold.RoleConflict
	RoleEdge      = fold.RoleEdge
	RoleFeature   = fold.RoleFeature
	RoleFixture   = fold.RoleFixture
	RoleHit       = fold.RoleHit
	RoleHole      = fold.RoleHole
	RoleJaw       = fold.RoleJaw
	RoleNext      = fold.RoleNext
	RolePart      = fold.RolePart
	RolePath      = fold.RolePath
	RolePocket    = fold.RolePocket
	RoleScrew     = fold.RoleScrew
	RoleSupport   = fold.RoleSupport
	RoleTap       = fold.RoleTap
	Soft          = fold.Soft
	Text          = fold.Text
	Untouched     = fold.Untouched
	Void          = fold.Void
	Waiting       = fold.Waiting
	Waived        = fold.Waived
	Walk          = fold.Walk
)

var (
	Register       = kit.Register
	Begin          = fold.Begin
	CardChanges    = desk.CardChanges
	CardRevision   = fold.Revision
	Fold           = fold.Fold
	Mishaps        = facts.Mishaps
	Offered        = facts.Offered
	PostedPrograms = fold.PostedPrograms
	JudgedFiles    = checks.JudgedFiles
)

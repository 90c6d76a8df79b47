package builtin

// The second side of plan T lets go in the cut.
func init() {
	t := kinds["ball"]
	t.plan, t.changes = "T", nil
	kinds["rescue"] = t
}

package tui

// Verdict is one verdict as shape and word, with its role. The key is the word of
// the record and of --json; an unknown one is shown as it is.
func Verdict(key string) (text string, r Role) {
	switch key {
	case "pass":
		return "(=) PASS", Pass
	case "fail":
		return "[!] FAIL", Fail
	case "not_proven":
		return "<?> NOT PROVEN", NotProven
	case "void":
		return "-/- VOID", Void
	case "waived":
		return "{w} WAIVED", Waived
	case "waiting":
		return " .  waiting", Waiting
	case "current":
		return " >  now", Current
	case "not_applicable":
		return " -  not applicable", Waiting
	}
	return key, Text
}

// Verdict paints a verdict: shape, word and colour.
func (t Theme) Verdict(key string) string {
	s, r := Verdict(key)
	return t.Paint(r, s)
}

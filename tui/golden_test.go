package tui

import (
	"testing"

	"fliptrue/calc/unit"
)

// TestScreens compares whole screens with files that can be read. UPDATE=1 writes them
// anew: read them before they are committed.
func TestScreens(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24)
	s.golden("80x24-do").Press("f2").golden("80x24-far-act").Press("f2")
	s.at("square", "low").Type("0.12").golden("80x24-dial")
	s.until(func() bool { v, ok := s.m.top().(*verdictPage); return ok && !v.passed && v.step == "square" })
	s.golden("80x24-fail").Press("f2").golden("80x24-far-fail").Press("f2")
	s.at("bore", "pause").golden("80x24-pause-point")
	s.at("bore", "hit3.y").Type("-163.3").golden("80x24-reading")
	s.Press("f2").golden("80x24-far-view").Press("f2", "f3").golden("80x24-picture").Press("esc")
	s.Press("backspace", "backspace", "backspace").Type("28").Enter().golden("80x24-slip").Press("/")
	s.Press("backspace", "backspace", "backspace", "backspace")
	s.Type("52.8").Press("home").Type("-").Press("home").Press("end")
	for s.m.focus().Text != "" {
		s.Press("backspace")
	}
	s.Press("*").golden("80x24-something-happened").Press("1", "enter").golden("80x24-mishap").Press("1").Plus().golden("80x24-way-back")
	s.Plus().golden("80x24-void").Press("?").golden("80x24-help").Press("esc", "/").golden("80x24-steps").Press("esc")
	s.at("offset", "x").golden("80x24-read-back")
	s.until(func() bool { return s.on() == "readyPage" }).golden("80x24-ready")
	s.Plus().golden("80x24-released").Plus().golden("80x24-stop-points")

	s = practice(t, lid(t, "T"), 80, 24)
	s.at("bore", "hit2.x").now = s.now.Add(14 * 60e9)
	s.restart().golden("80x24-going-on").Press("1").Plus()
	s.Wait(200e9).golden("80x24-idle")

	s = practice(t, lid(t, "T"), 120, 36)
	s.until(func() bool { v, ok := s.m.top().(*verdictPage); return ok && !v.passed && v.step == "square" })
	s.golden("120x36-fail")
	s.at("bore", "hit3.y").Type("-163.3").golden("120x36-reading")
	s.until(func() bool { v, ok := s.m.top().(*verdictPage); return ok && v.step == "bore" })
	s.golden("120x36-bore").until(func() bool { v, ok := s.m.top().(*verdictPage); return ok && v.step == "offset" })
	s.golden("120x36-offset")

	p := lid(t, "T")
	p.Job.Limits = map[string]unit.Length{"offset.register": 1e-7}
	s = practice(t, p, 200, 60)
	s.until(func() bool { return s.state().Cursor.Step == "offset" && s.state().Cursor.Decide }).golden("200x60-offset-fail")
	s.Press("f7", "1", "enter").golden("200x60-waive")

	s = practice(t, lid(t, "inch"), 80, 24)
	s.golden("80x24-inch")
	s.m.t = theme(Look{Colour: Off, ASCII: true})
	s.until(func() bool { _, ok := s.m.top().(*verdictPage); return ok }).golden("80x24-ascii")
	s.w, s.h = 60, 20
	s.restart().golden("60x20")
}

package tui

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

// BenchmarkView is one frame at 200 x 60, colours and two pictures, in the middle of
// a step; its pictures are kept from frame to frame, as they are at the machine.
func BenchmarkView(b *testing.B) {
	s := practice(&testing.T{}, lid(b, "T"), 200, 60)
	s.at("bore", "hit6.x")
	s.m.t = theme(Look{})
	s.m.Update(tea.WindowSizeMsg{Width: 200, Height: 60})
	b.ReportAllocs()
	for b.Loop() {
		s.m.View()
	}
}

// BenchmarkPictures is the same with the pictures drawn anew.
func BenchmarkPictures(b *testing.B) {
	s := practice(&testing.T{}, lid(b, "T"), 200, 60)
	s.at("bore", "hit6.x")
	s.m.t = theme(Look{})
	for b.Loop() {
		s.m.draw()
		s.m.View()
	}
}

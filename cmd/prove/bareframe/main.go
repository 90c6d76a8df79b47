// Command bareframe is the smallest program of the framework: what a first frame costs at least.
package main

import (
	"os"

	tea "github.com/charmbracelet/bubbletea"
)

type bare struct{}

func (bare) Init() tea.Cmd { return nil }
func (b bare) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if _, ok := msg.(tea.KeyMsg); ok {
		return b, tea.Quit
	}
	return b, nil
}
func (bare) View() string { return "ready" }

func main() {
	if _, err := tea.NewProgram(bare{}, tea.WithAltScreen()).Run(); err != nil {
		os.Exit(1)
	}
}

package main

import (
	"strings"
	"testing"

	"fliptrue/steps/bench/builtin"
	"fliptrue/tui"
)

// TestUnseenMistakeIsToldAtTheReleaseOnly: on leaving before, its name would spoil going on.
func TestUnseenMistakeIsToldAtTheReleaseOnly(t *testing.T) {
	if got := practiceEnd("chip-in-bore", false, nil); strings.Contains(got, "chip") || !strings.Contains(got, "fliptrue open") || !strings.Contains(got, "told at the release") {
		t.Errorf("left on the way: %q", got)
	}
	if got := practiceEnd("", false, nil); strings.Contains(got, "wrong") || !strings.Contains(got, "fliptrue practice") {
		t.Errorf("left on the way, nothing wrong: %q", got)
	}
	if got := practiceEnd("chip-in-bore", true, []string{"chip-in-bore"}); !strings.Contains(got, "chip-in-bore") || !strings.Contains(got, "It was caught.") {
		t.Errorf("released: %q", got)
	}
	if got := practiceEnd("", true, nil); got != "" {
		t.Errorf("released, nothing wrong: %q", got)
	}
}

// TestOpenOnAPracticeSaysThatItsBenchIsGone before anything else is asked.
func TestOpenOnAPracticeSaysThatItsBenchIsGone(t *testing.T) {
	e, _, _ := shop(t)
	s, _, err := e.beginPractice(practiceOptions{holdDown: "T", seed: 1, out: "p"})
	if err != nil {
		t.Fatal(err)
	}
	if s.options(e, tui.Look{}).First != "" {
		t.Error("the bench is there")
	}
	s.record.Close()
	s, err = begin(e, openOptions{job: "p/" + builtin.JobFile})
	if err != nil {
		t.Fatal(err)
	}
	defer s.record.Close()
	if first := s.options(e, tui.Look{}).First; !strings.Contains(first, "Type readings") || !strings.Contains(first, "fliptrue practice") {
		t.Errorf("said first: %q", first)
	}
}

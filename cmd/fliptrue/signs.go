package main

import (
	_ "embed"

	"github.com/spf13/cobra"
)

// signsCommand has no Run: it is a topic of help, no command.
func signsCommand(*runner) *cobra.Command {
	return &cobra.Command{Use: "signs", Short: "Which way plus is, drawn for each signed quantity", Long: signsText}
}

// signsText draws each signed quantity; the words are those of the keys and of the steps.
//
//go:embed signs.txt
var signsText string

package main

import (
	"io"

	"fliptrue/steps/prove/published"

	"github.com/spf13/cobra"
)

func publishedCommand(stdout io.Writer) *cobra.Command {
	return &cobra.Command{
		Use: "published", Short: "Print the numbers of standards, handbooks and worked examples beside ours", Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			_, err := io.WriteString(stdout, published.Page())
			return err
		},
	}
}

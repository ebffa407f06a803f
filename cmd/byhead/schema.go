package main

import (
	"fmt"

	"github.com/byhead/byhead/scenarios"
	"github.com/spf13/cobra"
)

func (a *app) schemaCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "schema",
		Short: "Print the JSON Schema of the scenario file",
		Args:  noArguments,
		RunE: func(*cobra.Command, []string) error {
			_, err := a.stdout.Write(scenarios.Schema())
			return err
		},
	}
}

func (a *app) versionCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version",
		Args:  noArguments,
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprintln(a.stdout, "byhead", scenarios.Version)
			return err
		},
	}
}

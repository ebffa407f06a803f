package main

import (
	"strings"

	"github.com/byhead/byhead/scenarios/study"
	"github.com/spf13/cobra"
)

// completeFlag completes a flag of a study by what the FILE that is typed already has.
func (a *app) completeFlag(c *cobra.Command, flag string, known func(*study.Model) []string) {
	c.RegisterFlagCompletionFunc(flag, func(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		if len(args) == 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		s, err := a.read(c.Context(), args[0])
		if err != nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		m, err := study.NewModel(s)
		if err != nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		var found []string
		for _, name := range known(m) {
			if strings.HasPrefix(name, typed) {
				found = append(found, name)
			}
		}
		return found, cobra.ShellCompDirectiveNoFileComp
	})
}

// valuePaths are the values that the description has; resultNames the results that a run can have.
func valuePaths(m *study.Model) []string  { return m.Vessel.Spec.Paths() }
func resultNames(m *study.Model) []string { return study.ResultNames(m.Vessel) }

package main

import (
	"strings"

	"github.com/byhead/byhead/compartment"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// noSuchCommand refuses a word that is no command, and gives the nearest one.
func noSuchCommand(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var known []string
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() {
			known = append(known, sub.Name())
		}
	}
	return usage("there is no command %q; %sthe commands are %s", args[0], didYouMean(args[0], known, ""), strings.Join(known, ", "))
}

// flagFault turns the flag parser's error into ours, with the nearest flag where one is not known.
func flagFault(c *cobra.Command, err error) error {
	word, unknown := strings.CutPrefix(err.Error(), "unknown flag: --")
	if !unknown {
		return usage("%s: %s; see byhead %s --help", c.Name(), err, c.Name())
	}
	word, _, _ = strings.Cut(word, "=")
	var known []string
	c.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, f.Name) })
	return usage("%s has no flag --%s; %ssee %s --help", c.Name(), word, didYouMean(word, known, "--"), c.CommandPath())
}

// didYouMean is the beginning of what would be right, or nothing where no known word is near.
func didYouMean(word string, known []string, before string) string {
	if near := compartment.Nearest(word, known); near != "" {
		return "did you mean " + before + near + "? "
	}
	return ""
}

// oneFile is the arguments of a command that takes one FILE.
func oneFile(c *cobra.Command, args []string) error {
	if len(args) == 1 {
		return nil
	}
	return usage("%s takes one FILE and was given %d; FILE is a path, - for standard input, or demo:NAME", c.Name(), len(args))
}

// noArguments is the arguments of a command that takes none.
func noArguments(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return usage("%s takes no arguments and was given %d", c.Name(), len(args))
}

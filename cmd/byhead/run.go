package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/byhead/byhead/scenarios"
	"github.com/spf13/cobra"
)

// The exit statuses.
const (
	statusDone        = 0
	statusFailed      = 1   // the run failed
	statusWrongInput  = 2   // the command line or the scenario is wrong
	statusInterrupted = 130 // as shells have it after Ctrl-C
)

// app is one run of the program.
type app struct {
	stdin          io.Reader
	stdout, stderr io.Writer
	dir            string // that paths on the command line start from
}

// run runs the program once: args without the program's name, dir the folder that relative paths start from. Results go to
// stdout, progress and warnings to stderr. It gives the exit status.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer, dir string) int {
	a := &app{stdin: stdin, stdout: stdout, stderr: stderr, dir: dir}
	root := a.commands()
	root.SetArgs(twoValues(args))
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	return a.status(root.ExecuteContext(ctx))
}

// status tells an error on stderr and gives its exit status.
func (a *app) status(err error) int {
	var faults scenarios.Faults
	var wrong *usageError
	switch {
	case err == nil:
		return statusDone
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(a.stderr, "interrupted")
		return statusInterrupted
	case errors.As(err, &faults): // as the contract has it, nothing before the place
		fmt.Fprintln(a.stderr, faults.Error())
		return statusWrongInput
	case errors.As(err, &wrong):
		a.tell("error", wrong.Error())
		return statusWrongInput
	}
	a.tell("error", err.Error())
	return statusFailed
}

// tell writes a line of diagnosis.
func (a *app) tell(kind, text string) {
	fmt.Fprintf(a.stderr, "%s: %s\n", a.paint(kind), oneLine(text))
}

func oneLine(text string) string { return strings.ReplaceAll(text, "\n", " ") }

// path is a path of the command line seen from the folder that it was typed in.
func (a *app) path(typed string) string {
	if filepath.IsAbs(typed) {
		return typed
	}
	return filepath.Join(a.dir, typed)
}

// usageError is a command line that is wrong.
type usageError struct{ text string }

func (u *usageError) Error() string { return u.text }

func usage(format string, values ...any) error {
	return &usageError{fmt.Sprintf(format, values...)}
}

// commands builds the tree of commands, anew for every run: nothing is kept between runs.
func (a *app) commands() *cobra.Command {
	root := &cobra.Command{
		Use:   "byhead",
		Short: "Steps the flooding of compartmented scale-model ships through time",
		Long: `Byhead computes whether a compartmented model ship floats upright, how it floods, and when and how it goes down;
or, if it stays up, by how much. It is for models: no basis for the safety of a real vessel.

FILE is the path of a scenario, - for standard input, or demo:NAME.
Exit status: 0 done, 1 the run failed, 2 the input is wrong, 130 interrupted.`,
		Example:       "  byhead sink demo:packet\n  byhead demo packet && byhead check packet.yaml",
		Args:          noSuchCommand,
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
		SilenceUsage:  true,
		SilenceErrors: true,
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetFlagErrorFunc(flagFault)
	root.AddCommand(a.demoCommand(), a.checkCommand(), a.floatCommand(), a.ballastCommand(), a.sinkCommand(), a.schemaCommand(), a.reportCommand(), a.templatesCommand(), a.shootCommand(), a.versionCommand())
	root.AddCommand(a.compareCommand(), a.sizeCommand(), a.spreadCommand(), a.gatherCommand(), a.fitCommand())
	return root
}

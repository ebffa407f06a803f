package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"text/tabwriter"

	"github.com/byhead/byhead/scenarios"
	"github.com/spf13/cobra"
)

func (a *app) demoCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "demo [NAME]",
		Short: "List the scenarios that ship with the program, or write one to the current folder",
		Long: `Without NAME, lists the scenarios that ship with the program. With NAME, writes that scenario as NAME.yaml, the files
that it names, and scenario.schema.json for editors to the current folder. A file that exists is never overwritten.`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return usage("demo takes one NAME and was given %d", len(args))
			}
			return nil
		},
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return scenarios.DemoNames(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return a.listDemos()
			}
			return a.writeDemo(args[0])
		},
	}
}

func (a *app) listDemos() error {
	table := tabwriter.NewWriter(a.stdout, 0, 0, 2, ' ', 0)
	for _, d := range scenarios.Demos() {
		fmt.Fprintf(table, "%s\t%s\n", d.Name, d.Title)
	}
	return table.Flush()
}

// asset is a file of a demo.
type asset struct {
	name string // below the current folder
	data []byte
}

// writeDemo writes a demo's files, all or none.
func (a *app) writeDemo(name string) error {
	assets, err := demoAssets(name)
	if err != nil {
		return err
	}
	var missing []asset
	for _, f := range assets {
		switch there, err := os.ReadFile(a.path(f.name)); {
		case errors.Is(err, fs.ErrNotExist):
			missing = append(missing, f)
		case err != nil || !bytes.Equal(there, f.data):
			return fmt.Errorf("%s exists and is not overwritten; move it away, or go to another folder", f.name)
		}
	}
	if err := a.writeAll(missing); err != nil {
		return err
	}
	for _, f := range missing {
		fmt.Fprintln(a.stdout, f.name)
	}
	return nil
}

// demoAssets are the files of a demo: its scenario under its own name, what it names, and the schema.
func demoAssets(name string) ([]asset, error) {
	folder, data, err := scenarios.OpenDemo(name)
	if err != nil {
		return nil, usage("%s", err)
	}
	assets := []asset{{name + ".yaml", data}}
	err = fs.WalkDir(folder, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		content, err := fs.ReadFile(folder, p)
		if bytes.Equal(content, data) {
			return err // the scenario itself
		}
		assets = append(assets, asset{path.Clean(p), content})
		return err
	})
	return append(assets, asset{"scenario.schema.json", scenarios.Schema()}), err
}

// writeAll writes every file beside its place first, and only then puts them there; what was put is taken back if one fails.
func (a *app) writeAll(assets []asset) (err error) {
	var parts []*pending
	defer func() {
		if err != nil {
			for _, p := range parts {
				p.Discard()
			}
		}
	}()
	for _, f := range assets {
		place := a.path(filepath.FromSlash(f.name))
		if err := os.MkdirAll(filepath.Dir(place), 0o777); err != nil {
			return fmt.Errorf("%s cannot be written: %s", f.name, plain(err))
		}
		p, err := begin(place)
		if err != nil {
			return fmt.Errorf("%s cannot be written: %s", f.name, plain(err))
		}
		parts = append(parts, p)
		if _, err := p.Write(f.data); err != nil {
			return fmt.Errorf("%s cannot be written: %s", f.name, plain(err))
		}
	}
	for i, p := range parts {
		if err := p.Commit(); err != nil {
			for _, done := range parts[:i] {
				os.Remove(done.place) // ours: it was not there before
			}
			return fmt.Errorf("%s cannot be written: %s", assets[i].name, plain(err))
		}
	}
	return nil
}

package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/byhead/byhead/cmd/byhead/page"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
	"github.com/spf13/cobra"
)

// reportFlags are what the command line says of a report.
type reportFlags struct {
	output, chart string
	variants      []string
	alone         bool
}

func (a *app) reportCommand() *cobra.Command {
	var f reportFlags
	c := &cobra.Command{
		Use:   "report FILE -o FILE.html",
		Short: "One page to look at: the hull with the water in it, moving, charts and the story",
		Long: `Steps the flooding through time and makes one self-contained page of it: profile, plan and body view with the water in every
compartment, to be played and scrubbed; charts; the story and the verdict. The page needs no network and opens from a stick.

Where the file has variants, the page shows the file's own run and its first variant in step; --variants chooses others, --alone shows
the file's own run by itself. --chart writes a single chart as SVG: ` + strings.Join(page.ChartNames, ", ") + `.`,
		Example:           "  byhead report demo:packet -o packet.html\n  byhead report demo:bell --variants drill-03,drill-12 -o bell.html\n  byhead report demo:parting --chart bending -o bending.svg",
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.check(c); err != nil {
				return err
			}
			return a.report(c.Context(), args[0], f)
		},
	}
	c.Flags().StringVarP(&f.output, "output", "o", "", "write to `FILE.html`, with --chart FILE.svg; - is standard output")
	c.Flags().StringVar(&f.chart, "chart", "", "write the one chart `NAME` as SVG: "+strings.Join(page.ChartNames, ", "))
	c.Flags().StringSliceVar(&f.variants, "variants", nil, "the variants to show, as `NAME` (beside the file's own run) or NAME,NAME")
	c.Flags().BoolVar(&f.alone, "alone", false, "show the file's own run only")
	c.RegisterFlagCompletionFunc("chart", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return page.ChartNames, cobra.ShellCompDirectiveNoFileComp
	})
	c.RegisterFlagCompletionFunc("variants", a.completeVariants)
	return c
}

// completeVariants completes the names of the variants of the FILE that was typed.
func (a *app) completeVariants(c *cobra.Command, args []string, _ string) (names []string, _ cobra.ShellCompDirective) {
	if len(args) == 1 && args[0] != "-" {
		if s, err := a.read(c.Context(), args[0]); err == nil {
			for _, v := range s.Variants {
				names = append(names, v.Name)
			}
		}
	}
	return names, cobra.ShellCompDirectiveNoFileComp
}

func (f *reportFlags) check(c *cobra.Command) error {
	kind, example := ".html", "-o sink.html"
	if c.Flags().Changed("chart") {
		kind, example = ".svg", "-o "+f.chart+".svg"
		if !slices.Contains(page.ChartNames, f.chart) {
			return usage("there is no chart %q; %s%s", f.chart, didYouMean(f.chart, page.ChartNames, ""), strings.Join(page.ChartNames, ", "))
		}
	}
	switch {
	case f.output == "":
		return usage("report needs a file to write to, such as %s", example)
	case f.output != "-" && !strings.HasSuffix(strings.ToLower(f.output), kind):
		return usage("-o %s does not end in %s; a name such as %s", f.output, kind, example)
	case f.alone && len(f.variants) > 0:
		return usage("--alone and --variants exclude each other; one of them")
	case len(f.variants) > 2:
		return usage("--variants names %d variants; one or two are shown", len(f.variants))
	case f.chart != "" && len(f.variants) > 1:
		return usage("--chart shows one run, and --variants names two; one of them")
	}
	return nil
}

// report runs what is to be shown, makes the page whole and only then writes it.
func (a *app) report(ctx context.Context, name string, f reportFlags) error {
	in, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	a.tellNotes(in)
	chosen, err := in.reported(f)
	if err != nil {
		return err
	}
	if err := a.mayReplace(f.output); err != nil {
		return err
	}
	var runs []*page.Run
	var gaveUp error
	for _, x := range chosen {
		run, result, err := a.recorded(ctx, x)
		if err != nil {
			return err
		}
		runs = append(runs, run)
		if result.GaveUp != nil {
			gaveUp = errors.New(x.Words().Failure(result.GaveUp))
		}
	}
	out, err := drawnReport(runs, f.chart)
	if err == nil {
		err = a.writeReport(f.output, out)
	}
	if err == nil {
		err = gaveUp // the page shows it up to there all the same
	}
	return err
}

// reportedRun is a run to be shown, and by what name: "" where it is the only one.
type reportedRun struct {
	*input
	name string
}

// ownRun is how the run without a variant is called beside one.
const ownRun = "as given"

// reported are the runs that the flags ask for.
func (in *input) reported(f reportFlags) (runs []reportedRun, err error) {
	names := f.variants
	if f.chart == "" && !f.alone && len(names) == 0 && len(in.Variants) > 0 {
		names = []string{in.Variants[0].Name}
	}
	if len(names) == 0 || len(names) == 1 && f.chart == "" {
		runs = append(runs, reportedRun{in, ownRun})
	}
	for _, name := range names {
		s, err := in.Variant(name)
		if err != nil {
			return nil, err
		}
		v, err := s.Build()
		if err != nil {
			return nil, err
		}
		runs = append(runs, reportedRun{&input{s, v}, name})
	}
	if len(runs) == 1 && len(names) == 0 {
		runs[0].name = ""
	}
	return runs, nil
}

// recorded runs to the end.
func (a *app) recorded(ctx context.Context, x reportedRun) (*page.Run, *flood.Result, error) {
	settings := x.Run.Settings()
	story, rec := scenarios.NewStory(x.Scenario, x.vessel), page.NewRecorder(x.vessel)
	settings.Samples = func(s *flood.Sample) { story.Sample(s); rec.Sample(s) }
	result, err := a.step(ctx, x.input, settings)
	if err != nil {
		return nil, nil, err
	}
	other, err := a.otherWetting(ctx, x.input, settings, result)
	if err != nil {
		return nil, nil, err
	}
	if other != nil { // the story is that of `sink`
		story.Compare(other, scenarios.OtherMenisci(settings.Menisci))
	}
	return page.NewRun(x.name, x.Scenario, rec, result, story.Tell(result)), result, nil
}

// drawnReport is the page, or the one chart.
func drawnReport(runs []*page.Run, chart string) ([]byte, error) {
	if chart == "" {
		var out bytes.Buffer
		err := page.Write(&out, runs...)
		return out.Bytes(), err
	}
	svg, known := runs[0].Chart(chart)
	if svg == "" {
		return nil, usage("this run has no chart %q, for want of %s; it has %s", chart, page.Needs(chart), strings.Join(known, ", "))
	}
	return []byte(svg), nil
}

// mayReplace refuses to write over a file that is no page or drawing.
func (a *app) mayReplace(name string) error {
	if name == "-" {
		return nil
	}
	path := a.path(name)
	info, err := os.Stat(path)
	if err != nil || !info.Mode().IsRegular() || info.Size() == 0 || beginsWith(path, "<") {
		return nil
	}
	return fmt.Errorf("%s exists and is no page or drawing; another name, or move it away", name)
}

// writeReport puts the whole file in its place.
func (a *app) writeReport(name string, data []byte) error {
	if name == "-" {
		_, err := a.stdout.Write(data)
		return err
	}
	p, err := begin(a.path(name))
	if err == nil {
		if _, err = p.Write(data); err != nil {
			p.Discard()
		} else {
			err = p.Commit()
		}
	}
	if err != nil {
		return fmt.Errorf("%s cannot be written: %s", name, plain(err))
	}
	return nil
}

package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
	"github.com/byhead/byhead/scenarios"
	"github.com/spf13/cobra"
	"gonum.org/v1/gonum/spatial/r3"
)

func (a *app) checkCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "check FILE",
		Short: "Read and build everything, run nothing, say what was understood",
		Long: `Reads a scenario and builds the vessel, runs nothing, and says what was understood: hull, water, masses, spaces with
their capacities, gyradii, bulkheads, openings with the numbers of their discharge law, joints, and notes.`,
		Example:           "  byhead check demo:packet",
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE:              func(c *cobra.Command, args []string) error { return a.check(c.Context(), args[0], asJSON) },
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print one JSON document")
	return c
}

func (a *app) check(ctx context.Context, name string, asJSON bool) error {
	in, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	if err := in.buildVariants(ctx); err != nil {
		return err
	}
	var out bytes.Buffer
	if asJSON {
		err = scenarios.WriteJSON(&out, newCheckDocument(in))
	} else {
		in.writeCheck(&out)
	}
	if err == nil {
		_, err = a.stdout.Write(out.Bytes())
	}
	for _, n := range in.Notes { // a closed loop of a mesh is told on standard error by every command
		a.tell("note", n)
	}
	return err
}

// buildVariants builds every variant, so that what is wrong with any of them is told now, of all of them in one go: what stands in a
// variant may be right as a value and make no vessel.
func (in *input) buildVariants(ctx context.Context) error {
	var all scenarios.Faults
	for _, v := range in.Variants {
		s, err := in.Variant(v.Name)
		if err == nil {
			_, err = s.Build()
		}
		var faults scenarios.Faults
		if errors.As(err, &faults) {
			all = append(all, faults...)
		} else if err != nil {
			return err
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
	}
	if len(all) > 0 {
		return all
	}
	return nil
}

// writeCheck says what was understood.
func (in *input) writeCheck(out *bytes.Buffer) {
	if in.Title != "" {
		fmt.Fprintln(out, in.Title)
	}
	in.writeHull(out)
	in.writeMasses(out)
	in.writeSpaces(out)
	in.writeBulkheads(out)
	in.writeOpenings(out)
	in.writeJoints(out)
	in.writeRun(out)
	if notes := append(in.builtNotes(), in.gyradiusNotes()...); len(notes) > 0 {
		fmt.Fprintln(out, "\nNotes")
		for _, n := range notes {
			fmt.Fprintf(out, "  %s\n", n)
		}
	}
}

func (in *input) writeHull(out *bytes.Buffer) {
	w, form := in.Words(), in.vessel.Whole.Form
	lo, hi := form.Bounds()
	rows := newTable()
	rows.add("hull", fmt.Sprintf("%s long, %s broad, %s deep", w.Length(hi.X-lo.X), w.Length(hi.Y-lo.Y), w.Length(hi.Z-lo.Z)))
	rows.add("volume", fmt.Sprintf("%s in %d triangles", w.Volume(form.Volume()), form.Len()))
	water := in.vessel.Water
	rows.add("water", fmt.Sprintf("%.2f kg/m3, viscosity %.3f mPa.s, surface tension %.1f mN/m", water.Density, 1e3*water.Viscosity, 1e3*water.SurfaceTension))
	if !math.IsInf(in.vessel.Depth, 0) {
		rows.add("depth of the pool", w.Length(in.vessel.Depth))
	}
	if w.Scaled() {
		rows.add("scale", fmt.Sprintf("1:%g, %s long at full size", in.Scale, w.FullLength(hi.X-lo.X)))
	}
	fmt.Fprintln(out)
	rows.write(out)
}

func (in *input) writeMasses(out *bytes.Buffer) {
	w, body := in.Words(), in.vessel.Whole
	fmt.Fprintf(out, "\nMass %s, centre %s from the after end, %s to port, %s above the keel line\n",
		w.Mass(body.Mass), w.Length(body.Centre.X), w.Length(body.Centre.Y), w.Length(body.Centre.Z))
	in.writeGyradii(out, "Gyradii", false)
	if body.LaterMass > 0 {
		fmt.Fprintf(out, "To come later: %s\n", w.Mass(body.LaterMass))
		in.writeGyradii(out, "Gyradii with it", true)
	}
	rows := newTable("weight", "mass", "from aft", "to port", "above keel", "")
	for i := range in.vessel.Spec.Weights {
		x := &in.vessel.Spec.Weights[i]
		rows.add(x.Name, w.Mass(x.Mass), w.Length(x.At.X), w.Length(x.At.Y), w.Length(x.At.Z), weightWords(w, x))
	}
	rows.write(out)
}

// writeGyradii tells the gyradii, and the shares that rules for model tests speak of.
func (in *input) writeGyradii(out *bytes.Buffer, head string, later bool) {
	w, g := in.Words(), in.vessel.Whole.Gyradii(later)
	if !math.IsNaN(g.Roll) {
		fmt.Fprintf(out, "%s: in roll %s, %.2f of the breadth; in pitch %s, %.2f of the length\n",
			head, w.Length(g.Roll), g.RollShare, w.Length(g.Pitch), g.PitchShare)
	}
}

// gyradiusNotes warn of a hull that is stiffer in roll than ships are, and of masses farther out than the hull reaches.
func (in *input) gyradiusNotes() (notes []string) {
	states := []bool{false}
	if in.vessel.Whole.LaterMass > 0 {
		states = append(states, true)
	}
	for _, later := range states {
		with := ""
		if later {
			with = " with the weights still to come"
		}
		g := in.vessel.Whole.Gyradii(later)
		lo, hi := in.vessel.Whole.Form.Bounds()
		if size := r3.Sub(hi, lo); g.Roll > math.Hypot(size.Y, size.Z)/2 || g.Pitch > math.Hypot(size.X, size.Z)/2 {
			w := in.Words()
			notes = append(notes, fmt.Sprintf("weights: the gyradii%s, %s in roll and %s in pitch, are more than masses within the hull can have: is every `size` and `over` right?",
				with, w.Length(g.Roll), w.Length(g.Pitch)))
		}
		if g.RollShare < compartment.LeastRollShare {
			notes = append(notes, fmt.Sprintf("weights: the roll gyradius%s is %.2f of the breadth, under %.2f, and it will roll faster than a ship; "+
				"0.35 to 0.40 is usual: the same ballast further out to the sides", with, g.RollShare, compartment.LeastRollShare))
		}
	}
	return notes
}

func weightWords(w scenarios.Words, x *compartment.WeightSpec) string {
	text := "without volume"
	if x.Density != nil {
		text = "takes " + w.Volume(x.Mass / *x.Density)
	}
	if x.Later {
		text += ", comes later"
	}
	return text
}

func (in *input) writeSpaces(out *bytes.Buffer) {
	w := in.Words()
	rows := newTable("space", "holds", "from", "to", "lowest", "highest", "at the start", "")
	for _, s := range in.vessel.Spaces {
		lo, hi := s.Room.Bounds()
		air := ""
		if s.Airtight {
			air = "airtight"
		}
		rows.add(s.Name, w.Volume(s.Capacity()), w.Length(lo.X), w.Length(hi.X), w.Length(lo.Z), w.Length(hi.Z), startWords(w, s), air)
	}
	fmt.Fprintln(out)
	rows.write(out)
}

func startWords(w scenarios.Words, s *compartment.Space) string {
	if v := s.StartVolume(); v > 0 {
		return w.Volume(v)
	}
	return "dry"
}

func (in *input) writeBulkheads(out *bytes.Buffer) {
	w := in.Words()
	rows := newTable("bulkhead", "at", "top", "open above it")
	for _, b := range in.vessel.Bulkheads {
		top, gap := "up to the deck", ""
		if b.Spec.Top != nil {
			top = w.Length(*b.Spec.Top)
		}
		if b.Passage >= 0 {
			gap = w.Area(in.vessel.Passages[b.Passage].Figure.Area())
		}
		rows.add(b.Spec.Name, w.Length(b.Spec.At), top, gap)
	}
	if rows.rows > 0 {
		fmt.Fprintln(out)
		rows.write(out)
	}
}

// writeOpenings tells the numbers of each law. Below the head of the last column but one more than half of the loss is
// viscous; a dry start holds back that of the last.
func (in *input) writeOpenings(out *bytes.Buffer) {
	w := in.Words()
	rows := newTable("opening", "from", "to", "area", "C_d", "viscous below", "dry holds")
	for _, p := range in.vessel.Passages {
		from, to := in.spaceName(p.From), in.spaceName(p.To)
		switch {
		case p.Listed == nil:
			continue
		case p.Pump != 0:
			rows.add(p.Name, from, to, fmt.Sprintf("pump, %.4g l/min", p.Pump*60e3))
			continue
		}
		rows.add(p.Name, from, to, w.Area(p.Figure.Area()), fmt.Sprintf("%.3f", p.Law.Cd),
			w.Length(viscousHead(p.Law, in.vessel.Water)), w.Length(p.Law.Breaking/(in.vessel.Water.Density*hydro.Gravity)))
	}
	if rows.rows > 0 {
		fmt.Fprintln(out)
		rows.write(out)
		fmt.Fprintln(out, "  (viscous below: the head at which half of the loss is viscous; dry holds: the head that a dry opening keeps back)")
	}
}

// viscousHead is the head, m, at which the viscous and the jet's part of a law are equal: Δp = 2 Jet v² at v = Creep/Jet.
func viscousHead(o hydro.Orifice, water hydro.Water) float64 {
	return 2 * o.Creep * o.Creep / o.Jet / (water.Density * hydro.Gravity)
}

func (in *input) spaceName(i int) string {
	if i == compartment.Outside {
		return "outside"
	}
	return in.vessel.Spaces[i].Name
}

func (in *input) writeJoints(out *bytes.Buffer) {
	w := in.Words()
	rows := newTable("joint", "at", "abaft", "before", "hogging", "sagging", "shear")
	limit := func(x *float64, unit string) string {
		if x == nil {
			return "holds"
		}
		return fmt.Sprintf("%.4g %s", *x, unit)
	}
	for _, j := range in.vessel.Spec.Joints {
		rows.add(j.Name, w.Length(j.At), j.Sections[0], j.Sections[1],
			limit(j.Holds.Hogging, "N.m"), limit(j.Holds.Sagging, "N.m"), limit(j.Holds.Shear, "N"))
	}
	if rows.rows > 0 {
		fmt.Fprintln(out)
		rows.write(out)
	}
}

func (in *input) writeRun(out *bytes.Buffer) {
	w := in.Words()
	fmt.Fprintf(out, "\nRun up to %s, samples every %.4g s, motion %s, menisci %s, tolerance %g\n",
		w.Time(in.Run.Until), in.Run.Every, in.Run.Motion, in.Run.Menisci, in.Run.Tolerance)
	if in.Run.Motion == scenarios.Free {
		fmt.Fprintf(out, "Factors on the documented values: added mass %g, linear damping %g, quadratic damping %g\n",
			in.Run.AddedMass, in.Run.LinearDamping, in.Run.QuadraticDamping)
	}
}

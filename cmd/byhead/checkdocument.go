package main

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
	"github.com/byhead/byhead/scenarios"
	"gonum.org/v1/gonum/spatial/r3"
)

// checkDocument is what `byhead check --json` prints: SI units, null where a member does not apply.
type checkDocument struct {
	scenarios.DocumentHead
	Hull         checkedHull       `json:"hull"`
	Water        checkedWater      `json:"water"`
	Mass         *float64          `json:"mass_kg"`
	Centre       [3]float64        `json:"centre_m"`
	LaterMass    *float64          `json:"later_mass_kg"`
	Gyradii      *checkedGyradii   `json:"gyradii"`       // null: no mass
	LaterGyradii *checkedGyradii   `json:"later_gyradii"` // with the weights still to come; null: none are
	Weights      []checkedWeight   `json:"weights"`
	Spaces       []checkedSpace    `json:"spaces"`
	Bulkheads    []checkedBulkhead `json:"bulkheads"`
	Openings     []checkedOpening  `json:"openings"`
	Joints       []checkedJoint    `json:"joints"`
	Run          checkedRun        `json:"run"`
	Notes        []string          `json:"notes"`
}

type checkedRun struct {
	Until            *float64 `json:"until_s"`
	Every            *float64 `json:"every_s"`
	Motion           string   `json:"motion"`
	Menisci          string   `json:"menisci"`
	Tolerance        float64  `json:"tolerance"`
	AddedMass        float64  `json:"added_mass"` // factors, of use with motion: free
	LinearDamping    float64  `json:"linear_damping"`
	QuadraticDamping float64  `json:"quadratic_damping"`
}

type checkedGyradii struct {
	Roll       float64 `json:"roll_m"`
	Pitch      float64 `json:"pitch_m"`
	RollShare  float64 `json:"roll_over_breadth"`
	PitchShare float64 `json:"pitch_over_length"`
}

func newCheckedGyradii(g compartment.Gyradii) *checkedGyradii {
	if math.IsNaN(g.Roll) {
		return nil
	}
	return &checkedGyradii{g.Roll, g.Pitch, g.RollShare, g.PitchShare}
}

type checkedHull struct {
	Low       [3]float64 `json:"low_m"` // corners of the box about it
	High      [3]float64 `json:"high_m"`
	Volume    *float64   `json:"volume_m3"`
	Surface   *float64   `json:"surface_m2"`
	Triangles int        `json:"triangles"`
}

type checkedWater struct {
	Density        *float64 `json:"density_kg_per_m3"`
	Viscosity      *float64 `json:"viscosity_pa_s"`
	SurfaceTension *float64 `json:"surface_tension_n_per_m"`
	Depth          *float64 `json:"depth_m"`
}

type checkedWeight struct {
	Name   string     `json:"name"`
	Mass   *float64   `json:"mass_kg"`
	At     [3]float64 `json:"at_m"`
	Volume *float64   `json:"volume_m3"` // null: counted without volume
	Later  bool       `json:"later"`
}

type checkedSpace struct {
	Name     string     `json:"name"`
	Capacity *float64   `json:"capacity_m3"`
	Low      [3]float64 `json:"low_m"`
	High     [3]float64 `json:"high_m"`
	Starts   *float64   `json:"starts_m3"`
	Airtight bool       `json:"airtight"`
}

type checkedBulkhead struct {
	Name string   `json:"name"`
	At   *float64 `json:"at_m"`
	Top  *float64 `json:"top_m"`   // null: up to the deck
	Gap  *float64 `json:"open_m2"` // area above the top; null: none
	Cd   *float64 `json:"cd"`      // null: by the head over the edge
}

type checkedOpening struct {
	Name     string    `json:"name"`
	Between  [2]string `json:"between"`
	Area     *float64  `json:"area_m2"`
	Cd       *float64  `json:"cd"`
	Creep    *float64  `json:"creep_pa_s_per_m"` // Δp = creep·v + jet·v² at the speed v over the area
	Jet      *float64  `json:"jet_pa_s2_per_m2"` //
	DryHolds *float64  `json:"dry_holds_m"`      // head that a dry opening keeps back
	Pump     *float64  `json:"pump_m3_per_s"`    // null: no pump; the others are null for one
}

type checkedJoint struct {
	Name     string    `json:"name"`
	At       *float64  `json:"at_m"`
	Sections [2]string `json:"sections"`
	Hogging  *float64  `json:"holds_hogging_nm"`
	Sagging  *float64  `json:"holds_sagging_nm"`
	Shear    *float64  `json:"holds_shear_n"`
}

func newCheckDocument(in *input) *checkDocument {
	v := in.vessel
	lo, hi := v.Whole.Form.Bounds()
	d := &checkDocument{
		DocumentHead: in.Head(),
		Hull: checkedHull{
			Low: numbers(lo), High: numbers(hi), Triangles: v.Whole.Form.Len(),
			Volume: scenarios.Number(v.Whole.Form.Volume()), Surface: scenarios.Number(v.Whole.Form.Surface()),
		},
		Water: checkedWater{
			scenarios.Number(v.Water.Density), scenarios.Number(v.Water.Viscosity),
			scenarios.Number(v.Water.SurfaceTension), scenarios.Number(v.Depth),
		},
		Mass: scenarios.Number(v.Whole.Mass), Centre: numbers(v.Whole.Centre), LaterMass: scenarios.Number(v.Whole.LaterMass),
		Weights: []checkedWeight{}, Spaces: []checkedSpace{}, Bulkheads: []checkedBulkhead{},
		Openings: []checkedOpening{}, Joints: []checkedJoint{}, Notes: append(in.allNotes(), in.gyradiusNotes()...),
		Run: checkedRun{
			scenarios.Number(in.Run.Until), scenarios.Number(in.Run.Every), string(in.Run.Motion), string(in.Run.Menisci), in.Run.Tolerance,
			in.Run.AddedMass, in.Run.LinearDamping, in.Run.QuadraticDamping,
		},
	}
	d.Gyradii = newCheckedGyradii(v.Whole.Gyradii(false))
	if v.Whole.LaterMass > 0 {
		d.LaterGyradii = newCheckedGyradii(v.Whole.Gyradii(true))
	}
	d.addParts(v)
	for _, p := range v.Passages {
		if p.Listed != nil {
			d.Openings = append(d.Openings, in.checkedOpening(p))
		}
	}
	return d
}

// addParts lists weights, spaces, bulkheads and joints.
func (d *checkDocument) addParts(v *compartment.Vessel) {
	for _, x := range v.Spec.Weights {
		w := checkedWeight{Name: x.Name, Mass: scenarios.Number(x.Mass), At: numbers(x.At), Later: x.Later}
		if x.Density != nil {
			w.Volume = scenarios.Number(x.Mass / *x.Density)
		}
		d.Weights = append(d.Weights, w)
	}
	for _, s := range v.Spaces {
		lo, hi := s.Room.Bounds()
		d.Spaces = append(d.Spaces, checkedSpace{
			s.Name, scenarios.Number(s.Capacity()), numbers(lo), numbers(hi), scenarios.Number(s.StartVolume()), s.Airtight,
		})
	}
	for _, b := range v.Bulkheads {
		c := checkedBulkhead{Name: b.Spec.Name, At: scenarios.Number(b.Spec.At), Top: b.Spec.Top, Cd: b.Spec.Cd}
		if b.Passage >= 0 {
			c.Gap = scenarios.Number(v.Passages[b.Passage].Figure.Area())
		}
		d.Bulkheads = append(d.Bulkheads, c)
	}
	for _, j := range v.Spec.Joints {
		d.Joints = append(d.Joints, checkedJoint{j.Name, scenarios.Number(j.At), j.Sections, j.Holds.Hogging, j.Holds.Sagging, j.Holds.Shear})
	}
}

func (in *input) checkedOpening(p *compartment.Passage) checkedOpening {
	o := checkedOpening{Name: p.Name, Between: [2]string{in.spaceName(p.From), in.spaceName(p.To)}}
	if p.Pump != 0 {
		o.Pump = scenarios.Number(p.Pump)
		return o
	}
	o.Area, o.Cd = scenarios.Number(p.Figure.Area()), scenarios.Number(p.Law.Cd)
	o.Creep, o.Jet = scenarios.Number(p.Law.Creep), scenarios.Number(p.Law.Jet)
	o.DryHolds = scenarios.Number(p.Law.Breaking / (in.vessel.Water.Density * hydro.Gravity))
	return o
}

func numbers(x r3.Vec) [3]float64 { return [3]float64{x.X + 0, x.Y + 0, x.Z + 0} } // −0 + 0 is 0

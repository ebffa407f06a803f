package compartment

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// faultCase is a change to the barge and the path at which it must be told, with a word of the message.
type faultCase struct {
	path, word string
	spoil      func(*Spec)
}

// TestFaults spoils the barge in every way that a description can be wrong, each alone.
func TestFaults(t *testing.T) {
	for _, c := range slices.Concat(hullFaults(), spaceFaults(), weightFaults(), openingFaults(), jointFaults()) {
		t.Run(c.path+" "+c.word, func(t *testing.T) {
			spec := barge()
			c.spoil(&spec)
			v, err := Build(spec)
			var faults Faults
			if !errors.As(err, &faults) || v != nil {
				t.Fatalf("no fault but %v", err)
			}
			i := slices.IndexFunc(faults, func(f Fault) bool { return f.Path == c.path && strings.Contains(f.Message(), c.word) })
			if i < 0 {
				t.Fatalf("not told: %v", err)
			}
			if len(faults) > 1 {
				t.Errorf("told more than once, or more than there is: %v", err)
			}
			if faults[i].What == "" || faults[i].Want == "" {
				t.Errorf("half a message: %v", faults[i])
			}
		})
	}
}

func hullFaults() []faultCase {
	nan := math.NaN()
	return []faultCase{
		{"water.kind", "brine", func(s *Spec) { s.Water.Kind = "brine" }},
		{"water.temperature", "range", func(s *Spec) { s.Water.Temperature = 18 }},
		{"water.temperature", "compute", func(s *Spec) { s.Water.Temperature = nan }},
		{"water.depth", "range", func(s *Spec) { s.Water.Depth = ptr(-1.0) }},
		{"water.density", "500", func(s *Spec) { s.Water.Density = ptr(1.0) }},
		{"water.surface_tension", "mN/m", func(s *Spec) { s.Water.SurfaceTension = ptr(35.0) }},
		{"hull", "exactly one", func(s *Spec) { s.Hull.Box = nil }},
		{"hull", "2 outer forms", func(s *Spec) { s.Hull.Wigley = &WigleySpec{1, 0.2, 0.1, 0.15} }},
		{"hull.box.length", "range", func(s *Spec) { s.Hull.Box = &BoxSpec{21, 0.2, 0.15} }},
		{"hull.wigley.depth", "draft", func(s *Spec) { s.Hull.Box, s.Hull.Wigley = nil, &WigleySpec{1, 0.2, 0.1, 0.09} }},
		{"hull.offsets", "1 stations", func(s *Spec) { s.Hull.Box, s.Hull.Offsets = nil, &OffsetsSpec{Stations: ship().Stations[:1]} }},
		{"hull.offsets.2.1.y", "compute", func(s *Spec) {
			s.Hull.Box, s.Hull.Offsets = nil, ship()
			s.Hull.Offsets.Stations[2].Points[1].Y = nan
		}},
		{"hull.offsets.2.1", "negative", func(s *Spec) {
			s.Hull.Box, s.Hull.Offsets = nil, ship()
			s.Hull.Offsets.Stations[2].Points[1].Y = -0.01
		}},
		{"hull.offsets.3", "forward", func(s *Spec) {
			s.Hull.Box, s.Hull.Offsets = nil, ship()
			s.Hull.Offsets.Stations[3].X = 0.5
		}},
		{"hull.mesh", "hole", func(s *Spec) { s.Hull.Box, s.Hull.Mesh = nil, openMesh() }},
		{"hull.mesh", "unit", func(s *Spec) {
			s.Hull.Box, s.Hull.Mesh = nil, openMesh()
			s.Hull.Mesh.Triangles[1][0].X = 500
		}},
		{"hull.shell.mass", "20 t", func(s *Spec) { s.Hull.Shell.Mass = ptr(2e4 + 1) }},
		{"hull.shell.mass", "range", func(s *Spec) { s.Hull.Shell.Mass = ptr(0.0) }},
		{"hull.shell", "no place", func(s *Spec) { s.Hull.Shell.At = nil }},
		{"hull.shell.thickness", "either", func(s *Spec) { s.Hull.Shell.Thickness = ptr(1e-3) }},
		{"hull.shell", "density", func(s *Spec) { s.Hull.Shell = ShellSpec{Thickness: ptr(1e-3)} }},
		{"hull.shell", "without mass", func(s *Spec) { s.Hull.Shell.Mass = nil }},
		{"hull.shell.at", "middle third", func(s *Spec) { s.Hull.Shell.At.X = 0.7 }},
		{"hull.shell.at", "middle third", func(s *Spec) { s.Hull.Shell.Over = &[2]float64{0.5, 1} }},
		{"hull.shell.over", "lesser", func(s *Spec) { s.Hull.Shell.Over = &[2]float64{1, 0.1} }},
		{"hull.contact_angle", "180", func(s *Spec) { s.Hull.ContactAngle = ptr(80.0) }},
		{"marks.M1.at.y", "20 m", func(s *Spec) { s.Marks[0].At.Y = 25 }},
		{"marks.1", "name", func(s *Spec) { s.Marks = append(s.Marks, MarkSpec{Name: "M1"}) }},
	}
}

// openMesh is a box without its last plate.
func openMesh() *MeshSpec {
	m := &MeshSpec{Name: "open"}
	v := mustBox()
	for t := range v.Triangles() {
		m.Triangles = append(m.Triangles, t)
	}
	m.Triangles = m.Triangles[:len(m.Triangles)-1]
	return m
}

func spaceFaults() []faultCase {
	return []faultCase{
		{"bulkheads.B1.at", "outside the hull", func(s *Spec) { s.Bulkheads[0].At = -0.1 }},
		{"bulkheads.B2.at", "before bulkhead B1", func(s *Spec) { s.Bulkheads[1].At = 0.2 }},
		{"bulkheads.B2.top", "bottom", func(s *Spec) { s.Bulkheads[1].Top = ptr(0.0) }},
		{"bulkheads.B2.cd", "coefficient", func(s *Spec) { s.Bulkheads[1].Cd = ptr(-0.6) }},
		{"bulkheads.1", "B1", func(s *Spec) { s.Bulkheads[1].Name = "B1" }},
		{"bulkheads.0", "cannot be a name", func(s *Spec) { s.Bulkheads[0].Name = "B 1" }},
		{"compartments.3", "meaning of its own", func(s *Spec) { s.Compartments[3].Name = "sea"; s.Openings = nil }},
		{"compartments", "one more", func(s *Spec) { s.Compartments = append(s.Compartments, CompartmentSpec{Name: "more"}) }},
		{"compartments.mid.permeability", "permeability", func(s *Spec) { s.Compartments[1].Permeability = ptr(0.0) }},
		{"compartments.mid.starts", "do not fit", func(s *Spec) { s.Compartments[1].Starts.Volume = ptr(0.0105) }},
		{"compartments.mid.starts", "2 times", func(s *Spec) { s.Compartments[1].Starts.Share = ptr(0.5) }},
		{"compartments.mid.starts", "share", func(s *Spec) { s.Compartments[1].Starts = &StartSpec{Share: ptr(1.5)} }},
		{"compartments.mid.starts", "deep", func(s *Spec) { s.Compartments[1].Starts = &StartSpec{Depth: ptr(0.2)} }},
		{"compartments.wing", "three ranges", func(s *Spec) { s.Compartments[2].Z = nil }},
		{"compartments.wing.y", "lesser", func(s *Spec) { s.Compartments[2].Y = &[2]float64{0.1, 0.04} }},
		{"compartments.wing", "outside the hull", func(s *Spec) { s.Compartments[2].Y = &[2]float64{0.11, 0.2}; s.Openings = nil }},
		{"compartments.wing2", "overlaps", func(s *Spec) {
			two := s.Compartments[2]
			two.Name, two.X = "wing2", &[2]float64{0.75, 0.9}
			s.Compartments = append(s.Compartments, two)
		}},
		{"compartments.fore", "no room", func(s *Spec) {
			c := &s.Compartments[2]
			c.X, c.Y, c.Z = &[2]float64{0.65, 1.1}, &[2]float64{-0.2, 0.2}, &[2]float64{-1, 1}
			s.Openings = nil
		}},
	}
}

func weightFaults() []faultCase {
	return []faultCase{
		{"weights.engine.mass", "mass", func(s *Spec) { s.Weights[1].Mass = -1 }},
		{"weights.engine.at.z", "compute", func(s *Spec) { s.Weights[1].At.Z = math.Inf(1) }},
		{"weights.lead.density", "density", func(s *Spec) { s.Weights[0].Density = ptr(0.0) }},
		{"weights.lead.size.1", "length", func(s *Spec) { s.Weights[0].Size[1] = 0 }},
		{"weights.house.at", "middle third", func(s *Spec) { s.Weights[2].At.X = 0.6 }},
		{"weights.2", "missing", func(s *Spec) { s.Weights[2].Name = "" }},
		{"weights.slug.at", "stands in that of lead", func(s *Spec) {
			s.Weights = append(s.Weights, WeightSpec{Name: "slug", Mass: 0.1, At: r3.Vec{X: 0.4, Z: 0.012}, Density: ptr(1e4)})
		}},
		{"weights.foam.at", "does not fit", func(s *Spec) {
			s.Weights = append(s.Weights, WeightSpec{Name: "foam", Mass: 0.2, At: r3.Vec{X: 0.85, Z: 0.07}, Density: ptr(20.0)})
		}},
		{"weights.block", "fill compartment after", func(s *Spec) {
			s.Weights[1].Mass = 1e-3
			s.Weights = append(s.Weights, WeightSpec{Name: "block", Mass: 9, At: r3.Vec{X: 0.15, Z: 0.075},
				Size: &[3]float64{0.3, 0.2, 0.15}, Density: ptr(1e3)})
		}},
	}
}

func openingFaults() []faultCase {
	return []faultCase{
		{"openings.cut.between.1", `did you mean "fore"`, func(s *Spec) { s.Openings[0].Between[1] = "for" }},
		{"openings.cut.between.1", "one of after", func(s *Spec) { s.Openings[0].Between[1] = "cellar" }},
		{"openings.limber.between.1", "different", func(s *Spec) { s.Openings[1].Between[1] = "mid" }},
		{"openings.cut", "without a shape", func(s *Spec) { s.Openings[0].Slot = nil }},
		{"openings.cut.slot", "2 shapes", func(s *Spec) { s.Openings[0].Hole = ptr(0.01) }},
		{"openings.cut.slot.width", "length", func(s *Spec) { s.Openings[0].Slot.Width = -0.001 }},
		{"openings.valve.area", "area", func(s *Spec) { s.Openings[3].Area = ptr(math.Inf(1)) }},
		{"openings.pump.flow", "flow", func(s *Spec) { s.Openings[4].Flow = ptr(-1.0) }},
		{"openings.valve.cd", "coefficient", func(s *Spec) { s.Openings[3].Cd = ptr(0.0) }},
		{"openings.cut.edge", "rounded", func(s *Spec) { s.Openings[0].Edge = "blunt" }},
		{"openings.cut.wall", "distance", func(s *Spec) { s.Openings[0].Wall = -1 }},
		{"openings.hatch.rises", "distance", func(s *Spec) { s.Openings[2].Rises = math.NaN() }},
		{"openings.cut.contact_angle", "angle", func(s *Spec) { s.Openings[0].ContactAngle = ptr(-1.0) }},
		{"openings.cut.faces", "direction", func(s *Spec) { s.Openings[0].Faces = &r3.Vec{} }},
		{"openings.cut.along", "right angles", func(s *Spec) { s.Openings[0].Along = &r3.Vec{Y: 1} }},
		{"openings.cut.along", "right angles", func(s *Spec) { s.Openings[0].Along, s.Openings[0].Faces = &r3.Vec{Z: 2}, &r3.Vec{Z: 1} }},
		{"openings.cut.at", "nearest plate", func(s *Spec) { s.Openings[0].At.Y = -0.107 }},
		{"openings.cut.at", "belongs to mid", func(s *Spec) { s.Openings[0].At.X = 0.6 }},
		{"openings.limber.at", "no wall between mid and after", func(s *Spec) { s.Openings[1].At.X = 0.31 }},
		{"openings.limber.at", "no wall", func(s *Spec) { s.Openings[1].At = r3.Vec{X: 0.3, Y: 0.12, Z: 0.02} }},
		{"openings.valve.at", "no wall", func(s *Spec) { s.Openings[3].At.X = 0.65 }}, // there the wing's neighbour is mid
		{"openings.over.at", "over the top", func(s *Spec) {
			s.Openings = append(s.Openings, OpeningSpec{Name: "over", Between: [2]string{"mid", "fore"}, At: r3.Vec{X: 0.7, Z: 0.12}, Hole: ptr(0.01)})
		}},
		{"openings.pump.opens", "exactly one", func(s *Spec) { s.Openings[4].Opens[0].Wet = ptr(2.0) }},
		{"openings.pump.opens.time", "time", func(s *Spec) { s.Openings[4].Opens[0].Time = ptr(-2.0) }},
		{"openings.pump.shuts.1.joint", `did you mean "J1"`, func(s *Spec) {
			s.Openings[4].Shuts = []Condition{{Wet: ptr(2.0)}, {Joint: ptr("J2x")}}
			s.Openings[4].Shuts[1].Joint = ptr("j1x")
		}},
		{"openings.pump.shuts.trim", "sign", func(s *Spec) { s.Openings[4].Shuts = []Condition{{Trim: ptr(0.0)}} }},
	}
}

func jointFaults() []faultCase {
	return []faultCase{
		{"joints.J1.at", "outside the hull", func(s *Spec) { s.Joints[0].At = 1 }},
		{"joints.J1.keeps", "nobody", func(s *Spec) { s.Joints[0].Keeps = "aft" }},
		{"joints.J1.holds.hogging", "magnitude", func(s *Spec) { s.Joints[0].Holds.Hogging = ptr(-2.0) }},
		{"joints.J1.hinge", "coordinate", func(s *Spec) { s.Joints[0].Hinge = ptr(30.0) }},
		{"joints.J1.release.joint", "by a joint", func(s *Spec) { s.Joints[0].Release = []Condition{{Joint: ptr("J1")}} }},
		{"joints.J1.release", "0 members", func(s *Spec) { s.Joints[0].Release = []Condition{{}} }},
		{"joints.J1.sections.0", "meaning of its own", func(s *Spec) { s.Joints[0].Sections[0] = "hull" }},
		{"joints.J1.sections.1", "two pieces", func(s *Spec) { s.Joints[0].Sections[1] = "stern" }},
		{"joints.J2.sections.0", "one name for one piece", func(s *Spec) {
			s.Joints = append(s.Joints, JointSpec{Name: "J2", At: 0.8, Sections: [2]string{"mid", "stem"}})
		}},
		{"joints.J2.at", "before joint J1", func(s *Spec) {
			s.Joints = append(s.Joints, JointSpec{Name: "J2", At: 0.5, Sections: [2]string{"bow", "stem"}})
		}},
		{"openings.tear.at", "whole face", func(s *Spec) { s.Openings = append(s.Openings, tear("mid")) }},
		{"openings.tear.at", "does not keep", func(s *Spec) {
			s.Joints[0].At, s.Joints[0].Keeps = 0.3, KeepForward
			s.Openings = append(s.Openings, tear("after"))
		}},
		{"openings.tear.at", "does not reach", func(s *Spec) {
			s.Joints[0].At = 0.3
			s.Openings = append(s.Openings, tear("fore"))
		}},
	}
}

// tear is a hole that opens in the joint's plane when it parts.
func tear(from string) OpeningSpec {
	o := OpeningSpec{Name: "tear", Between: [2]string{"outside", from}, At: r3.Vec{X: 0.5, Z: 0.03}, Hole: ptr(0.01)}
	if from != "mid" {
		o.At.X = 0.3
	}
	return o
}

// TestAllFaultsAtOnce: faults of every stage are told in one go.
func TestAllFaultsAtOnce(t *testing.T) {
	spec := barge()
	spec.Water.Temperature = math.NaN()
	spec.Bulkheads[1].Cd = ptr(9.0)
	spec.Compartments[1].Starts.Volume = ptr(1.0)
	spec.Weights[1].Mass = -1
	spec.Openings[0].At.Y = 0
	spec.Openings[1].Hole = nil
	spec.Joints[0].At = 2
	spec.Hull.Shell.At.X = 0.9
	_, err := Build(spec)
	var faults Faults
	if !errors.As(err, &faults) {
		t.Fatal(err)
	}
	for _, path := range []string{"water.temperature", "bulkheads.B2.cd", "compartments.mid.starts", "weights.engine.mass",
		"openings.cut.at", "openings.limber", "joints.J1.at", "hull.shell.at"} {
		if !slices.ContainsFunc(faults, func(f Fault) bool { return f.Path == path }) {
			t.Errorf("%s is not told", path)
		}
	}
	if len(faults) != 8 {
		t.Errorf("%d faults:\n%v", len(faults), err)
	}
}

func TestNearest(t *testing.T) {
	known := []string{"engine-room", "poop", "hold", "fore-hold", "B1"}
	for word, want := range map[string]string{
		"engin-room": "engine-room", "engine-rooom": "engine-room", "engien-room": "engine-room", "Poop": "poop", "hodl": "hold",
		"forehold": "fore-hold", "b1": "B1", "B2": "", "cellar": "", "": "", "hatch": "", "müll": "",
	} {
		if got := Nearest(word, known); got != want {
			t.Errorf("nearest to %q is %q, want %q", word, got, want)
		}
	}
}

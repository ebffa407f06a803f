package shoot

import (
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/scenarios"
)

// read reads and builds a scenario.
func read(t *testing.T, text string) (*scenarios.Scenario, *compartment.Vessel) {
	t.Helper()
	s, err := scenarios.Read(nil, "x.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	v, err := s.Build()
	if err != nil {
		t.Fatal(err)
	}
	return s, v
}

func planned(t *testing.T, text string, o Options) *Plan {
	t.Helper()
	s, v := read(t, text)
	p, err := New(t.Context(), s, v, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A box in two spaces with a low wall between them, a block of lead of 2 kg and a hole low in its fore end. Water of 1000 kg/m³.
const box = `format: 1
title: A box
scale: 100
water: {density: 1000 kg/m3, surface_tension: 0 mN/m}
hull:
  box: {length: 1 m, breadth: 200 mm, depth: 150 mm}
  shell: {mass: 12 kg, at: [500 mm, 0 mm, 30 mm]}
bulkheads: [{name: B1, at: 600 mm, top: 80 mm}]
compartments: [aft, fore]
weights: [{name: lead, mass: 2 kg, at: [500 mm, 0 mm, 10 mm], size: [100 mm, 100 mm, 20 mm], density: 10000 kg/m3}]
openings: [{name: cut, between: [outside, fore], at: [1 m, 0 mm, 20 mm], hole: 20 mm}]
`

package study_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"github.com/byhead/byhead/scenarios"
	"github.com/byhead/byhead/scenarios/study"
)

// clamped is a box that is held with its keel 140 mm under the sea, with a hole in the bottom of its fore space: the water
// rises to the top of B1, 100 mm, and goes over. Invented, with an answer in closed form: see risingTime.
const clamped = `format: 1
title: A clamped tub with a hole in its bottom
water: {surface_tension: 0 mN/m, density: 1000 kg/m3}
hull:
  box: {length: 1 m, breadth: 200 mm, depth: 150 mm}
  shell: {mass: 12 kg, at: [500 mm, 0 mm, 30 mm]}
bulkheads:
  - {name: B1, at: 900 mm, top: 100 mm}
compartments: [aft, fore]
openings:
  - {name: cut, between: [outside, fore], at: [950 mm, 0 mm, 0 mm], hole: 20 mm, cd: 0.61}
run: {motion: held, keel: -140 mm, until: 40 s}
spread:
  - {value: openings.cut.cd, normal: 5 %}
  - {value: weights.block.mass, uniform: [-10 g, 10 g]}
weights:
  - {name: block, mass: 100 g, at: [500 mm, 0 mm, 10 mm]}
variants:
  - {name: wide, set: {openings.cut.hole: 25 mm}}
  - {name: tall, set: {bulkheads.B1.top: 120 mm}}
  - {name: door, set: {openings.cut: {name: cut, between: [outside, fore], at: [950 mm, 0 mm, 0 mm], door: 20 mm x 20 mm}}}
`

const rises = "events.overtopped.B1.time_s"

// risingTime is when the water in a clamped tub reaches the top: with Δp = a·v + b·v² (v the flow over the hole's area; Sampson's
// creeping flow and Bernoulli's jet, as the contract has them) and Δp = ρg(H − z), dz/dt = v·A/S gives
// t = S/(Aρg)·[a·ln v + 2b·v] between the speeds at z = top and z = 0.
func risingTime(m *study.Model, diameter, cd float64) float64 {
	const g, section, sea, top = 9.80665, 0.1 * 0.2, 0.140, 0.100
	w := m.Vessel.Water
	area := math.Pi / 4 * diameter * diameter
	a, b := 24*w.Viscosity*area/(diameter*diameter*diameter), w.Density/(2*cd*cd)
	speed := func(head float64) float64 {
		return 2 * w.Density * g * head / (a + math.Sqrt(a*a+4*b*w.Density*g*head))
	}
	whole := func(v float64) float64 { return a*math.Log(v) + 2*b*v }
	return section / (area * w.Density * g) * (whole(speed(sea)) - whole(speed(sea-top)))
}

func read(t testing.TB, text string) *study.Model {
	t.Helper()
	s, err := scenarios.Read(nil, "test.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	m, err := study.NewModel(s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func demo(t testing.TB, name string) *study.Model {
	t.Helper()
	folder, data, err := scenarios.OpenDemo(name)
	if err != nil {
		t.Fatal(err)
	}
	s, err := scenarios.Read(folder, "demo:"+name, data)
	if err != nil {
		t.Fatal(err)
	}
	m, err := study.NewModel(s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func within(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("%s is %.9g, want %.9g within %g of it", what, got, want, share)
	}
}

func without(text, line string) string { return strings.Replace(text, line, "", 1) }

var background = context.Background()

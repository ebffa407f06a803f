package shoot

import (
	"strings"
	"testing"
)

const g = 9.80665 // m/s², the standard acceleration of fall

// TestLiftOfABoxByHand: weights, Archimedes' principle and the sills that the water stands under, by hand.
func TestLiftOfABoxByHand(t *testing.T) {
	p := planned(t, box, Options{})
	if len(p.Lifts) != 1 || p.Lifts[0].Name != "hull" {
		t.Fatalf("%+v", p.Lifts)
	}
	l := p.Lifts[0]
	lead := 2.0 / 10000
	water := 0.03 - lead
	near(t, "mass", l.Mass, 14, 1e-12)
	near(t, "water", l.Water, water, 1e-12)
	// in water the lead alone has a volume: the shell's 12 kg and the lead less its water
	near(t, "pull under water", l.Submerged, g*(12+2-1000*lead), 1e-9)
	near(t, "out at once", l.AtOnce, g*(14+1000*water), 1e-9)
	// level: 80 mm of the after 600 mm stay behind the wall, less the lead that stands in it, 10 mm of the fore 400 mm under the hole
	near(t, "stays, level", l.Stays[Level], 0.6*0.2*0.08-lead+0.4*0.2*0.01, 1e-9)
	near(t, "drained", l.Drained[Level], g*(14+1000*l.Stays[Level]), 1e-9)
	// fore end down: the hole is in the floor, and all of the wall that lies flat now drains over its edge
	near(t, "stays, fore end down", l.Stays[ByAfter], 0, 1e-9)
	// after end down: the hole is on top, nothing goes out
	near(t, "stays, after end down", l.Stays[ByFore], water, 1e-9)
}

// TestWhatWaterCannotReach: a closed box aboard stays dry and buoys; a plugged hole lets nothing out.
func TestWhatWaterCannotReach(t *testing.T) {
	foam := strings.Replace(box, "compartments: [aft, fore]", "compartments: [aft, fore, {name: foam, x: [100 mm, 300 mm], y: [-50 mm, 50 mm], z: [50 mm, 100 mm]}]", 1)
	l := planned(t, foam, Options{}).Lifts[0]
	near(t, "pull under water", l.Submerged, g*(14-0.2-1000*0.2*0.1*0.05), 1e-9)
	near(t, "stays in the after space", l.Stays[Level], 0.6*0.2*0.08-2e-4-0.2*0.1*0.03+0.4*0.2*0.01, 1e-9)
	shut := strings.Replace(box, "hole: 20 mm}", "hole: 20 mm, shuts: {time: 5 s}}", 1)
	l = planned(t, shut, Options{}).Lifts[0]
	near(t, "nothing goes out", l.Stays[Level], l.Water, 1e-12)
}

// TestLiftsOfSections: the halves of a hull that parted weigh what the whole did, and each lets all of its water out of its cut face
// when that is down.
func TestLiftsOfSections(t *testing.T) {
	p := planned(t, strings.Replace(box, "compartments:", "joints: [{name: J, at: 300 mm, sections: [stern, bow], release: {time: 1 s}}]\ncompartments:", 1), Options{})
	if len(p.Lifts) != 2 || p.Lifts[0].Name != "stern" || p.Lifts[1].Name != "bow" {
		t.Fatalf("%+v", p.Lifts)
	}
	stern, bow := p.Lifts[0], p.Lifts[1]
	near(t, "masses", stern.Mass+bow.Mass, 14, 1e-9)
	near(t, "water", stern.Water+bow.Water, 0.03-2e-4, 1e-9)
	near(t, "stern on its cut face", stern.Stays[ByAfter], 0, 1e-9)
	near(t, "stern level", stern.Stays[Level], 0, 1e-9)
	near(t, "stern, its cut face up", stern.Stays[ByFore], stern.Water, 1e-9)
	// the bow's wall stands 80 mm high, its after space is open to the cut face, its fore space drains to the hole
	near(t, "bow level", bow.Stays[Level], 0.4*0.2*0.01, 1e-9)
	near(t, "under water, both", stern.Submerged+bow.Submerged, g*(14-0.2), 1e-6)
}

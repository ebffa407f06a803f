package plan_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/compartment/plan"
	"gonum.org/v1/gonum/spatial/r3"
)

func level(draft float64) []plan.Wish { return []plan.Wish{{DraftFore: &draft, DraftAft: &draft}} }

// At 15 mm the tub may weigh 3 kg; it weighs 4.
func TestBallastTooHeavy(t *testing.T) {
	b := ballast(t, tub(), level(0.015), []plan.Place{floor("hold", 0.1, 0.9, -0.08, 0.08)})
	if b.Feasible || b.Cause != plan.TooHeavy || math.Abs(b.Short.Mass-1) > 1e-9 {
		t.Errorf("%s, %.6f kg; want 1 too many", b.Cause, b.Short.Mass)
	}
	if len(b.Entries) != 0 || math.Abs(b.Reached[0].DraftFore-0.02) > 1e-6 {
		t.Errorf("the nearest is no ballast: %v at %v", b.Entries, b.Reached[0].DraftFore)
	}
}

// A hold of 0.1 × 0.1 × 0.028 m takes 3.1752 kg of lead; 6 are wanted.
func TestBallastNoRoom(t *testing.T) {
	b := ballast(t, tub(), level(0.05), []plan.Place{floor("hold", 0.45, 0.55, -0.05, 0.05)})
	if b.Feasible || b.Cause != plan.NoRoom || math.Abs(b.Short.Mass-(6-3.1752)) > 1e-6 {
		t.Errorf("%s, %.6f kg", b.Cause, b.Short.Mass)
	}
	if mass, _ := total(b); math.Abs(mass-3.1752) > 1e-6 {
		t.Errorf("the nearest fills the hold: %.6f kg", mass)
	}
}

// A place at the stern alone trims the hull.
func TestBallastWrongPlace(t *testing.T) {
	b := ballast(t, tub(), level(0.04), []plan.Place{floor("aft", 0.05, 0.35, -0.08, 0.08)})
	if b.Feasible || b.Cause != plan.WrongPlace || math.Abs(b.Short.Mass-4) > 1e-9 || math.Abs(b.Short.Centre.X-0.5) > 1e-9 {
		t.Errorf("%s, %.6f kg at %v; want 4 at 0.5", b.Cause, b.Short.Mass, b.Short.Centre)
	}
}

// Pieces of half a kilogram are too coarse for 4.25 kg.
func TestBallastTooCoarse(t *testing.T) {
	place := floor("hold", 0.1, 0.9, -0.08, 0.08)
	place.Piece = &plan.Piece{Name: "block", Mass: 0.5, Length: 0.05, Breadth: 0.05, Height: 0.02, Volume: 5e-5}
	b := ballast(t, tub(), level(8.25/200), []plan.Place{place})
	if b.Feasible || b.Cause != plan.TooCoarse {
		t.Errorf("%s %+v", b.Cause, b.Misses)
	}
	if mass, _ := total(b); math.Abs(mass-4) > 1e-9 && math.Abs(mass-4.5) > 1e-9 {
		t.Errorf("the nearest is 4 or 4.5 kg: %.4f", mass)
	}
	if b = ballast(t, tub(), level(8.0/200), []plan.Place{place}); !b.Feasible {
		t.Errorf("4 kg are eight of them: %s %+v", b.Cause, b.Misses)
	}
}

// A tub with its mass at 160 mm and 1 kg to lay at 25 mm of draft: GM = T/2 + B²/(12 T) − KG by hand. The moment that is told
// mends it exactly: with the shell lower by moment over mass the plan is met, with a little less it is not.
func TestBallastTopHeavy(t *testing.T) {
	spec := tub()
	spec.Hull.Shell.At.Z = 0.16
	wishes := level(0.025)
	wishes[0].GM = given(0.04)
	place := []plan.Place{floor("hold", 0.1, 0.9, -0.08, 0.08)}
	b := ballast(t, spec, wishes, place)
	if b.Feasible || b.Cause != plan.TopHeavy {
		t.Fatalf("%s %+v", b.Cause, b.Misses)
	}
	height := 1 / (11340 * 0.08 * 0.16) // of 1 kg in one cell of 80 mm; spread over all it lies lower
	low, high := 0.002+0.1*height/2, 0.002+height/2
	gm := func(z float64) float64 { return 0.0125 + 0.04/0.3 - (4*0.16+z)/5 }
	if b.Short.GM > gm(low)+1e-5 || b.Short.GM < gm(high)-1e-5 {
		t.Errorf("GM %.6f, by hand %.6f to %.6f", b.Short.GM, gm(high), gm(low))
	}
	if want := 5 * (0.04 - b.Short.GM); math.Abs(b.Short.Moment-want) > 1e-3*want { // the plan may be 0.01 mm light
		t.Errorf("moment %.6f kg·m, want %.6f", b.Short.Moment, want)
	}
	for share, mends := range map[float64]bool{0.97: false, 1.01: true} {
		spec.Hull.Shell.At = &r3.Vec{X: 0.5, Z: 0.16 - share*b.Short.Moment/4}
		if again := ballast(t, spec, wishes, place); again.Feasible != mends {
			t.Errorf("with %.2f of it: feasible %v, %+v", share, again.Feasible, again.Misses)
		}
	}
}

// Every wish for a stance includes that it stands: a hull that lolls is no plan, with or without a wish for GM.
func TestBallastMustStand(t *testing.T) {
	spec := tub()
	spec.Hull.Shell.At.Z = 0.4
	b := ballast(t, spec, level(0.03), []plan.Place{floor("hold", 0.1, 0.9, -0.08, 0.08)})
	if b.Feasible || b.Cause != plan.TopHeavy {
		t.Errorf("%v %s", b.Feasible, b.Cause)
	}
}

func TestBallastFaults(t *testing.T) {
	place := []plan.Place{floor("hold", 0.1, 0.9, -0.08, 0.08)}
	bad := place[0]
	bad.Density = math.NaN()
	for name, try := range map[string]struct {
		wishes []plan.Wish
		places []plan.Place
	}{
		"no wish":      {nil, place},
		"no such body": {[]plan.Wish{{Of: "stern", GM: given(0.01)}}, place},
		"NaN wish":     {level(math.NaN()), place},
		"NaN density":  {level(0.03), []plan.Place{bad}},
	} {
		if _, err := plan.Ballast(t.Context(), tub(), try.wishes, try.places); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	done, stop := context.WithCancel(t.Context())
	stop()
	if _, err := plan.Ballast(done, tub(), level(0.03), place); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	spec := tub()
	spec.Weights = []compartment.WeightSpec{{Name: "x", Mass: -1}}
	var faults compartment.Faults
	if _, err := plan.Ballast(t.Context(), spec, level(0.03), place); !errors.As(err, &faults) {
		t.Errorf("a wrong description: %v", err)
	}
}

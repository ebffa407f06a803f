package plan

import (
	"context"
	"errors"
	"fmt"
	"math"

	"github.com/byhead/byhead/compartment"
)

// Wish is how one body is to float; nil members are no matter, except that a wish without one for heel is for no heel.
type Wish struct {
	Of                  string   // "hull", "hull+later" or a section's name; "": the hull with all aboard
	DraftFore, DraftAft *float64 // m, at the ends of the keel line
	Heel                *float64 // rad, positive to starboard
	GM                  *float64 // m, at least; without it the body must stand upright of itself all the same
}

// Place is a box, in body axes, m, that ballast may be laid in: what of it lies inside the hull and is free.
type Place struct {
	Name     string
	X, Y, Z  [2]float64
	Material string  // a word for the list, such as "lead"
	Density  float64 // kg/m³, of what is laid there in bulk
	Piece    *Piece  // what it comes in; nil: any amount
}

// Entry is one thing to lay: a block of some thickness, or so many pieces about one centre.
type Entry struct {
	Place    string
	Material string
	Count    int // of whole pieces; 0: bulk
	Layers   int // that the pieces lie in, one over another
	Piece    *Piece
	Weight   compartment.WeightSpec // as it goes into the description: mass, centre, size, density
}

// Quantity is what a wish asks for.
type Quantity string

// The quantities of a wish.
const (
	DraftFore Quantity = "draft_fore"
	DraftAft  Quantity = "draft_aft"
	Heel      Quantity = "heel"
	GM        Quantity = "gm"
	Floats    Quantity = "floats" // it does not float at all
)

// Miss is a wish that is not met. Wanted and Reached are in m, of Heel in rad; NaN where there is none.
type Miss struct {
	Of              string
	Quantity        Quantity
	Wanted, Reached float64
}

// Cause is why no ballast gives what is wished.
type Cause string

// The causes, the plainest first.
const (
	NoCause    Cause = ""
	TooHeavy   Cause = "too-heavy"   // it lies deeper than wished without any ballast
	NoRoom     Cause = "no-room"     // the places are full
	TopHeavy   Cause = "top-heavy"   // the metacentric height is short of the wish with the ballast as low as it can lie
	WrongPlace Cause = "wrong-place" // the places lie too far from where the weight is needed
	TooCoarse  Cause = "too-coarse"  // any amount would do it, whole pieces do not
)

// BallastPlan is what Ballast found.
type BallastPlan struct {
	Feasible bool
	Entries  []Entry                // where Feasible is false: of the nearest that can be had
	Reached  []compartment.Floating // the float test with the entries aboard
	Vessel   *compartment.Vessel    // with the entries aboard
	Misses   []Miss                 // none where Feasible
	Cause    Cause
	Short    Shortage
}

// How near a wish has to be met: a tenth of a millimetre is finer than a waterline can be read, a twentieth of a degree finer
// than an eye sees (common practice, no source).
const (
	lengthWithin = 1e-4                 // m
	angleWithin  = 0.05 * math.Pi / 180 // rad
	plannedShare = 0.1                  // of these, that a plan in bulk may use up, so that written figures may be rounded
	leastGM      = 0.2e-3               // m: what stands of itself has at least this; less is rounding
)

// Ballast finds the least mass, within the places, that makes the vessel of a description float as wished.
//
// At a given water plane the forces and moments are linear in the ballast's masses, and so is displacement times (GM less
// what is wished). Each round is a linear programme in the masses of cells into which the places are cut, and in the change of
// each body's pose; the wishes are soft, with a price far above that of mass, so that where they cannot be met the nearest is
// found the same way. Rounds go on, each about the last one's poses and heights, until no stride gains anything
// (ballast_rounds.go). Whole pieces come of a branch and bound over the last programme; in bulk, amounts too small to be worth
// cutting are left out where that costs next to nothing. The vessel is then built with the plan and floated by the float test,
// and the planning is done over with the spaces of that vessel until its float test agrees.
//
// The error is compartment.Faults where the description is wrong, the context's, or of a wish that names no body.
func Ballast(ctx context.Context, spec compartment.Spec, wishes []Wish, places []Place) (*BallastPlan, error) {
	bare, err := compartment.Build(spec)
	if err != nil {
		return nil, err
	}
	if err := checkTask(bare, wishes, places); err != nil {
		return nil, err
	}
	p := newPlanner(bare, wishes, places)
	if err := p.solve(ctx); err != nil {
		return nil, err
	}
	return p.out, nil
}

// checkTask refuses what cannot be planned for.
func checkTask(v *compartment.Vessel, wishes []Wish, places []Place) error {
	if len(wishes) == 0 {
		return errors.New("plan: nothing is wished; at least one wish")
	}
	for i := range wishes {
		if body, _ := bodyOf(v, wishes[i].Of); body == nil {
			return fmt.Errorf("plan: there is no body %s to float", wishes[i].Of)
		}
		for _, x := range []*float64{wishes[i].DraftFore, wishes[i].DraftAft, wishes[i].Heel, wishes[i].GM} {
			if x != nil && (math.IsNaN(*x) || math.IsInf(*x, 0)) {
				return fmt.Errorf("plan: a wish for %s is not a finite number", wishes[i].Of)
			}
		}
	}
	for i := range places {
		p := &places[i]
		sum := p.X[0] + p.X[1] + p.Y[0] + p.Y[1] + p.Z[0] + p.Z[1] + p.Density
		if math.IsNaN(sum) || math.IsInf(sum, 0) || !(p.Density > 0) {
			return fmt.Errorf("plan: place %s has a side or a density that is no number above zero", p.Name)
		}
		if q := p.Piece; q != nil && !(q.Mass > 0 && q.Length > 0 && q.Breadth > 0 && q.Height > 0) {
			return fmt.Errorf("plan: place %s is for pieces without mass or measures", p.Name)
		}
	}
	return nil
}

// bodyOf is the body that a wish is for, and whether the weights still to come are aboard.
func bodyOf(v *compartment.Vessel, of string) (body *compartment.Body, later bool) {
	switch of {
	case "":
		return v.Whole, true
	case "hull":
		return v.Whole, false
	case "hull+later":
		return v.Whole, true
	}
	for _, piece := range v.Pieces {
		if piece.Name == of && len(v.Pieces) > 1 {
			return piece, true // as the float test has sections
		}
	}
	return nil, false
}

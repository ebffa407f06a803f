package scenarios

import (
	"bytes"
	"encoding/csv"
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/google/go-cmp/cmp"
)

// inThree is a vessel of three pieces whose middle space is divided by the second joint.
func inThree() *compartment.Vessel {
	space := func(name string, index, piece int) *compartment.Space {
		return &compartment.Space{Name: name, Index: index, Piece: piece}
	}
	return &compartment.Vessel{
		Spec: compartment.Spec{Joints: []compartment.JointSpec{{Name: "J1"}, {Name: "J2"}}},
		Pieces: []*compartment.Body{
			{Name: "stern", Spaces: []*compartment.Space{space("aft", 0, 0)}},
			{Name: "mid", Spaces: []*compartment.Space{space("hold", 1, 1)}},
			{Name: "bow", Spaces: []*compartment.Space{space("hold", 1, 2)}},
		},
		Spaces:   []*compartment.Space{space("aft", 0, 0), space("hold", 1, -1)},
		Passages: []*compartment.Passage{{Name: "cut", Listed: &compartment.OpeningSpec{}}, {Name: "B1"}},
	}
}

// The columns and their order are the contract's (scenario.md §6).
func TestTraceColumns(t *testing.T) {
	var out bytes.Buffer
	if err := NewTrace(&out, inThree()).Finish(); err != nil {
		t.Fatal(err)
	}
	want := []string{"time_s"}
	add := func(names, columns string) {
		for _, n := range strings.Fields(names) {
			for _, c := range strings.Fields(columns) {
				want = append(want, n+"."+c)
			}
		}
	}
	add("hull stern stern+mid mid mid+bow bow", "sinkage_m trim_deg heel_deg draft_fore_m draft_aft_m displaced_m3")
	add("aft hold hold.mid hold.bow", "water_m3 depth_m air_pa")
	add("J1 J2", "bending_nm shear_n torsion_nm axial_n end_moment_nm")
	add("cut", "water_m3_per_s air_m3_per_s")
	if diff := cmp.Diff(strings.Join(want, ",")+"\n", out.String()); diff != "" {
		t.Error(diff)
	}
}

func TestTraceRows(t *testing.T) {
	var out bytes.Buffer
	trace := NewTrace(&out, inThree())
	trace.Row(&flood.Sample{
		Time:     0.1 + 0.2, // not the float64 nearest to 0.3: it must read back to the same bits
		Bodies:   []flood.BodySample{{Name: "hull", Present: true, Trim: math.Pi / 6, Sinkage: math.Copysign(0, -1)}, {Name: "bow"}},
		Spaces:   []flood.SpaceSample{{Name: "hold", Water: 1e-5, Depth: 0.01}},
		Joints:   []flood.JointSample{{Name: "J1"}, {Name: "J2", Present: true, Shear: -3.1}},
		Passages: []flood.PassageSample{{Name: "B1", Water: 5}, {Name: "cut", Water: 2e-6}},
	})
	if err := trace.Finish(); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil || len(rows) != 2 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	got := map[string]string{}
	for i, name := range rows[0] {
		got[name] = rows[1][i]
	}
	if x, err := strconv.ParseFloat(got["time_s"], 64); err != nil || x != 0.1+0.2 {
		t.Errorf("time_s is %q", got["time_s"])
	}
	for name, want := range map[string]string{
		"hull.sinkage_m": "0", "bow.sinkage_m": "", "hull.displaced_m3": "0", "aft.water_m3": "", "hold.water_m3": "1e-05",
		"hold.mid.water_m3": "", "J1.shear_n": "", "J2.shear_n": "-3.1", "cut.water_m3_per_s": "2e-06", "cut.air_m3_per_s": "0",
	} {
		if got[name] != want {
			t.Errorf("%s is %q, want %q", name, got[name], want)
		}
	}
	if x, err := strconv.ParseFloat(got["hull.trim_deg"], 64); err != nil || math.Abs(x-30) > 1e-12 {
		t.Errorf("hull.trim_deg is %q, want 30", got["hull.trim_deg"])
	}
}

type fullDisk struct{ left int }

var errFull = errors.New("no space left")

func (d *fullDisk) Write(p []byte) (int, error) {
	if d.left -= len(p); d.left < 0 {
		return 0, errFull
	}
	return len(p), nil
}

func TestTraceKeepsTheFirstError(t *testing.T) {
	trace := NewTrace(&fullDisk{left: 10000}, inThree())
	for i := range 1000 {
		trace.Row(&flood.Sample{Time: float64(i)})
	}
	if err := trace.Finish(); !errors.Is(err, errFull) {
		t.Errorf("the error is %v, want that of the disk", err)
	}
}

func TestTraceIsBounded(t *testing.T) {
	trace := NewTrace(&fullDisk{left: math.MaxInt}, &compartment.Vessel{})
	trace.rows = mostRows - 1
	trace.Row(&flood.Sample{})
	if trace.err != nil {
		t.Fatalf("the millionth row: %v", trace.err)
	}
	trace.Row(&flood.Sample{})
	if err := trace.Finish(); err == nil || !strings.Contains(err.Error(), "1000000 rows") {
		t.Errorf("the error is %v, want that there are too many rows", err)
	}
}

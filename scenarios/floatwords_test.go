package scenarios

import (
	"math"
	"strings"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/compartment/plan"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestEveryVerdictHasAJudgement(t *testing.T) {
	w, seen := wordsIn(t, "mm", 1), map[string]compartment.Verdict{}
	for verdict, want := range map[compartment.Verdict]string{
		compartment.Sinks:     "does not float",
		compartment.OnEnd:     "floats on end",
		compartment.KeelUp:    "floats keel up",
		compartment.Lolls:     "lolls to 20.00°: upright it is top-heavy by 5.0 mm of GM; bring weight down",
		compartment.DeckUnder: "deck edge 3.0 mm under water",
		compartment.Lists:     "floats heeled 20.00° to starboard: its weight is 2.0 mm off the middle",
		compartment.Tender:    "tender: GM 4.0 mm, and it turns over past 30.00°",
		compartment.Firm:      "upright and firm: GM 4.0 mm, and it comes back from 30.00°",
	} {
		test := &compartment.Floating{
			Floats: verdict != compartment.Sinks, Verdict: verdict, Heel: 20 * math.Pi / 180, GMUpright: -0.005, Freeboard: -0.003,
			Centre: r3.Vec{Y: -0.002}, GMTransverse: 0.004, RangeOfStability: math.Pi / 6,
			LowestDry: compartment.OpeningHeight{Name: "hatch", Height: 0.012},
		}
		got := w.Judgement(test)
		if !strings.Contains(got, want) || strings.Contains(got, "\n") || seen[got] != "" {
			t.Errorf("%s: %q, want %q in it", verdict, got, want)
		}
		if strings.Contains(got, "hatch, is 12.0 mm clear") != test.Floats {
			t.Errorf("%s: the hatch in %q", verdict, got)
		}
		seen[got] = verdict
	}
}

func TestParseLaid(t *testing.T) {
	l, err := ParseLaid("1.2 kg at 640 mm, -1 in,25 mm")
	if err != nil || l.Mass != 1.2 || l.At != (r3.Vec{X: 0.64, Y: -0.0254, Z: 0.025}) {
		t.Errorf("%+v, %v", l, err)
	}
	for text, want := range map[string]string{
		"1.2 kg":                          "not a mass at a place",
		"640 mm at 1 kg":                  "is a length",
		"0 kg at 1 m":                     "no mass to lay on",
		"1 kg at 640":                     "has no unit",
		"1 kg at 1 mm, 1 mm, 1 mm, 1 mm":  "more than three",
		"1 kg at ":                        "no value",
		"NaN kg at 1 m":                   "not a finite number",
		"1 kg at 640 mm, 5 g":             "is a mass",
		"99999999999999999999 kg at 20 m": "absurd",
	} {
		if _, err := ParseLaid(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
	if got := wordsIn(t, "in", 1).Laid(Laid{0.45359237, r3.Vec{X: 0.0254 * 2.5, Z: 0.0254}}); got != "16.00 oz at 2 1/2 in, 1 in above the keel line" {
		t.Errorf("%q", got)
	}
}

func TestMeasuredWords(t *testing.T) {
	nan := math.NaN()
	none := plan.Estimate{Value: nan, Low: nan, High: nan}
	m := &plan.Measured{Mass: plan.Estimate{Value: 2.1, Low: 2, High: 2.2}, LCG: none, TCG: none, VCG: none, ListedMass: 2, Spare: 3, Misfit: 4, Off: true,
		Suspects: []plan.Suspect{{Name: "lead", Change: plan.MassChange, Mass: 1.1}, {Name: "house", Change: plan.PlaceChange, At: r3.Vec{X: 0.5}}}}
	rows, lines := wordsIn(t, "mm", 1).Measured(m)
	if strings.Join(rows[0], "|") != "mass|2.100 kg|2.000 kg to 2.200 kg|2.000 kg" || rows[3][1] != "not shown" {
		t.Errorf("rows %q", rows)
	}
	text := strings.Join(lines, "\n")
	for _, want := range []string{"incline her", "read the trim", "read the heel", "4.0 times", "lead, if it weighs 1100.0 g", "house, if it stands at [500.0 mm"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
	d := &FloatDocument{}
	d.AddMeasured(m)
	if d.Measured.VCG.Value != nil || *d.Measured.Mass.Low != 2 || len(d.Measured.NotShown) != 3 || (*d.Suspects)[1] != "house" {
		t.Errorf("%+v", d.Measured)
	}
	m.Suspects = nil
	if _, lines = wordsIn(t, "mm", 1).Measured(m); !strings.Contains(strings.Join(lines, "\n"), "no one weight explains it") {
		t.Error("nobody is to blame, and it is not said")
	}
	m.Off = false
	if _, lines = wordsIn(t, "mm", 1).Measured(m); !strings.Contains(strings.Join(lines, "\n"), "agrees") {
		t.Error("the list is right, and it is not said")
	}
}

func TestArmSideInWords(t *testing.T) {
	s := compartment.ArmSide{Range: math.Pi / 3, Most: 0.0254, MostAt: -math.Pi / 6, Area: 0.02, Area30: 0.0127, Area40: 0.0254}
	for unit, want := range map[string]string{
		"mm": "greatest 25.4 mm at 30.00° to port, vanishes after 60.00°, area 12.7 mm rad to 30°, 25.4 to 40°, 20 in all",
		"in": "greatest 1 in at 30.00° to port, vanishes after 60.00°, area 0.5 in rad to 30°, 1 to 40°, 0.787 in all",
	} {
		if got := wordsIn(t, unit, 1).ArmSide(s); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := wordsIn(t, "mm", 1).ArmSide(compartment.ArmSide{}); got != "none" {
		t.Errorf("%q, want none", got)
	}
}

package shoot

import (
	"fmt"
	"strings"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
)

// names joins names, as many as there is room for.
func names(list []string) string {
	const most = 8
	if len(list) > most {
		return strings.Join(list[:most], ", ") + fmt.Sprintf(" and %d more", len(list)-most)
	}
	return strings.Join(list, ", ")
}

// reset is what has to be as it was before the next take.
func (w *writer) reset() Block {
	b := Block{Title: "Before every take", Box: -1, Blank: -1, Ticked: true}
	var works, clear, plugged, joints, tight, held []string
	for i := range w.Vessel.Passages {
		p := w.Vessel.Passages[i]
		if p.Listed == nil || p.Pump != 0 {
			continue
		}
		if len(p.Listed.Opens)+len(p.Listed.Shuts) > 0 {
			works = append(works, p.Name)
		}
		if p.From != compartment.Outside && p.To != compartment.Outside {
			continue
		}
		if clear = append(clear, p.Name); p.Joint < 0 && len(p.Listed.Opens) == 0 && w.rest != nil && lowest(p.Figure, w.rest.Pose.Up) < w.rest.Pose.Sea {
			plugged = append(plugged, p.Name)
		}
	}
	for _, s := range w.Result.Separations {
		joints = append(joints, s.Joint)
	}
	for _, s := range w.Vessel.Spaces {
		if s.Airtight {
			tight = append(tight, s.Name)
		}
	}
	for _, warning := range w.Result.Warnings {
		if warning.Kind == flood.DryHoleHolds || warning.Kind == flood.DryEdgeHolds {
			held = append(held, warning.Name)
		}
	}
	add := func(list []string, format string) {
		if len(list) > 0 {
			b.Lines = append(b.Lines, fmt.Sprintf(format, names(list)))
		}
	}
	add(joints, "Put together again, and tight: %s; release armed and tried once.")
	add(works, "Back to how they stand at the start: %s.")
	if len(clear) > 0 {
		text := "Clear of grit and bubbles: " + names(clear)
		if len(plugged) > 0 {
			text += "; plugged until the clock runs, being under water: " + names(plugged)
		}
		b.Lines = append(b.Lines, text+".")
	}
	b.Lines = append(b.Lines, w.emptied())
	add(tight, "Airtight, tried under water with no bubble: %s.")
	b.Lines = append(b.Lines, w.afloat())
	add(held, "Wet all through as after a take: dry, these hold the first water back: %s.")
	b.Lines = append(b.Lines, "Water at rest; weights where they are listed; batteries, lines, clock.")
	return b
}

// emptied says how much water may be in her.
func (w *writer) emptied() string {
	var list []string
	for _, s := range w.Vessel.Spaces {
		if v := s.StartVolume(); v > 0 {
			list = append(list, fmt.Sprintf("%s of water in %s", w.Volume(v), s.Name))
		}
	}
	if len(list) == 0 {
		return "Emptied and sponged out, every space: no water aboard."
	}
	return "Emptied and sponged out, then " + names(list) + "."
}

// atStart is how the hull floats as a take begins; nil: it does not.
func atStart(v *compartment.Vessel) *compartment.Floating {
	tests := v.FloatTest()
	t := &tests[0]
	if len(tests) > 1 && tests[1].Name == "hull+later" {
		t = &tests[1]
	}
	if !t.Floats {
		return nil
	}
	return t
}

// afloat says how she must lie before a take.
func (w *writer) afloat() string {
	if w.rest == nil {
		return "She does not float by the list of weights: see float."
	}
	return fmt.Sprintf("Lies as she should: draft %s fore, %s aft, heel %s.", w.Length(w.rest.DraftFore), w.Length(w.rest.DraftAft), w.Heel(w.rest.Heel))
}

// logging is what to write down for fit.
func (w *writer) logging() Block {
	b := Block{Title: "Log, for fit", Box: -1, Blank: -1, Beside: true}
	marks := "the marks"
	if len(w.Vessel.Marks) == 0 {
		marks = "marks (the scenario has none: add two under `marks:`)"
	}
	var times []string
	for _, at := range w.Readings {
		times = append(times, w.Time(at))
	}
	b.Lines = []string{"The times above, by one clock in the picture of every camera, and how sure they are (sigma)."}
	if len(times) > 0 {
		b.Lines = append(b.Lines, fmt.Sprintf("At %s or near: trim, %s, water in spaces that can be seen into.", strings.Join(times, ", "), marks))
	}
	b.Lines = append(b.Lines, fmt.Sprintf("Water: %.0f °C by the scenario, really ______. Soap: ______. Frame rate: ______. What went otherwise: overleaf.", w.Vessel.Spec.Water.Temperature-273.15),
		"`shoot FILE --csv` writes the log; `fit` and `float --measured` read it, and rows left empty count for nothing.")
	return b
}

// cautions are what nobody may miss.
func (w *writer) cautions() Block {
	b := Block{Title: "Take care", Box: -1, Blank: -1, Caution: true}
	b.Lines = []string{
		"The rules of the place come first. Never alone at the water; one person only watches, with a float or a pole to hand.",
		"Cold or deep water: nobody goes in after a wreck. It comes up from the edge, by its lines.",
		"Lines under load: hands and feet out of every loop, nobody in line with them, gloves, no turn round a hand or waist.",
		"Mains and water kill: lamps, pumps, chargers on batteries or extra-low voltage.",
		"Lead: gloves, wash before eating, nothing filed or melted here. Make fast the lines before it goes in.",
		"No pyrotechnics: a release is a pin, a magnet, a servo or a plug that dissolves.",
		"For models only: no basis for the safety of a real vessel or of anything that carries a person.",
	}
	return b
}

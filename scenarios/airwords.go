package scenarios

import (
	"bytes"
	"fmt"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
)

// keptAir is what is known of the air of an airtight space.
type keptAir struct {
	name        string
	capacity    float64 // m³
	begun       bool
	start, last float64 // m³ as at one atmosphere
	most        float64 // greatest gauge pressure while there was more than a bubble, Pa
	mostAt      float64 // s
}

// airsOf are the airs of a vessel's airtight spaces, in the spaces' order.
func airsOf(v *compartment.Vessel) (airs []*keptAir) {
	for _, s := range v.Spaces {
		if s.Airtight {
			airs = append(airs, &keptAir{name: s.Name, capacity: s.Capacity()})
		}
	}
	return airs
}

// bubble is the share of a space under which its air is not worth a word.
const bubble = 1e-3

// sample keeps what a sample says of the air.
func (a *keptAir) sample(s *flood.Sample) {
	for i := range s.Spaces {
		x := &s.Spaces[i]
		if x.Name != a.name {
			continue
		}
		room := a.capacity - x.Water
		if x.Full || room < bubble*a.capacity {
			room = 0
		}
		a.last = room * (1 + x.Air/hydro.Atmosphere)
		if !a.begun {
			a.begun, a.start = true, a.last
		}
		if room > 0 && x.Air > a.most {
			a.most, a.mostAt = x.Air, s.Time
		}
	}
}

// writeAirs tells what became of the trapped air.
func (t *Story) writeAirs(b *bytes.Buffer) {
	said := false
	for _, a := range t.airs {
		if a.start == 0 && a.last == 0 {
			continue
		}
		if !said {
			fmt.Fprintln(b, "\nTrapped air (as at one atmosphere)")
			said = true
		}
		fmt.Fprintf(b, "  %s: %s.\n", a.name, t.airLine(a))
	}
}

func (t *Story) airLine(a *keptAir) string {
	w := t.words
	var line string
	switch gone := a.start - a.last; {
	case a.last == 0:
		line = fmt.Sprintf("all of %s has gone", w.Volume(a.start))
	case gone > bubble*a.start:
		line = fmt.Sprintf("%s of %s left, %s gone", w.Volume(a.last), w.Volume(a.start), w.Volume(gone))
	case -gone > bubble*a.start:
		line = fmt.Sprintf("%s at the end, %s of it come in", w.Volume(a.last), w.Volume(-gone))
	default:
		line = fmt.Sprintf("all of %s kept", w.Volume(a.start))
	}
	if a.most > 1 {
		line += fmt.Sprintf("; under %s at most%s", pressureWords(a.most), w.at(a.mostAt))
	}
	return line
}

// pressureWords is a pressure in Pa, to three figures or to the kPa.
func pressureWords(pa float64) string {
	if pa < 1e5 {
		return fmt.Sprintf("%.3g kPa", pa/1000)
	}
	return fmt.Sprintf("%.0f kPa", pa/1000)
}

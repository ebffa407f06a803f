package shoot

import (
	"fmt"
)

// camera is the table of rates.
func (w *writer) camera() Block {
	b := Block{Title: "Camera, frames a second", Box: -1, Blank: -1}
	if w.Cameras == nil {
		b.Lines = []string{"The scenario gives no scale: add `scale:` to it (96 is 1:96) for the speed of the camera. The rule is the square root of the scale times the rate of showing."}
		return b
	}
	b.Head, b.Shares = []string{"shown at", "scale asks", "camera", "looks", "more light", "next nearest"}, []float64{13, 16, 13, 23, 15, 20}
	for _, c := range w.Cameras {
		other := "–"
		if rate := c.OtherRate(); rate > 0 {
			other = fmt.Sprintf("%g: %s", rate, pace(Camera{c.Base, c.Exact, rate}))
		}
		b.Rows = append(b.Rows, []string{fmt.Sprintf("%g", c.Base), fmt.Sprintf("%.1f", c.Exact), fmt.Sprintf("%g", c.Rate), pace(c), fmt.Sprintf("%.1f stops", c.Stops()), other})
	}
	b.Lines = []string{"Square root of the scale times the rate of showing (Visual Effects Society handbook). Free rates: as the scale asks.",
		fmt.Sprintf("Flicker at %g: %s. Undimmed lamps on batteries, or daylight; film a test.", w.Camera.Rate, flickerWords(w.Camera.Rate))}
	return b
}

// pace says how a film seems against the ship.
func pace(c Camera) string {
	percent := 100 * c.Slow()
	switch {
	case percent >= 0.05:
		return fmt.Sprintf("%.1f %% slow", percent)
	case percent <= -0.05:
		return fmt.Sprintf("%.1f %% fast", -percent)
	}
	return "right"
}

// flickerWords is what mains lamps do at a rate, in lands of 50 and of 60 Hz.
func flickerWords(rate float64) string {
	one := func(mains float64) string {
		switch flickerAt(rate, mains) {
		case noFlicker:
			return fmt.Sprintf("none under %g Hz mains", mains)
		case byShutter:
			return fmt.Sprintf("under %g Hz mains an exposure of 1/%g s or whole times that", mains, 2*mains)
		}
		return fmt.Sprintf("under %g Hz mains no shutter helps", mains)
	}
	if flickerAt(rate, 50) == alwaysRisks && flickerAt(rate, 60) == alwaysRisks {
		return "under mains lamps no shutter helps"
	}
	return one(50) + "; " + one(60)
}

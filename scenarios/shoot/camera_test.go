package shoot

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.9g, want %.9g within %.2g", what, got, want, within)
	}
}

// TestCameraRates: MO-15, √m × r with 1:4 at 24 giving 48 (The VES Handbook of Visual Effects, appendix A); MO-16, 1:16 giving 96
// (modelshipsinthecinema.com, camera, lighting and lens).
func TestCameraRates(t *testing.T) {
	near(t, "MO-15", ExactRate(4, 24), 48, 0)
	near(t, "MO-16", ExactRate(16, 24), 96, 0)
	for _, c := range []struct{ scale, rate24, other24 float64 }{
		{4, 48, 0}, {16, 96, 0},
		{96, 240, 200}, // √96 × 24 = 235.15: 240 is 2.1 % off, 200 is 15 %
		{1, 24, 0},
		{1e5, 2000, 0}, // more than any camera: the fastest
	} {
		camera := Cameras(c.scale)[0]
		if camera.Rate != c.rate24 || camera.OtherRate() != c.other24 {
			t.Errorf("1:%g: %+v, other %g", c.scale, camera, camera.OtherRate())
		}
	}
}

// TestOnScreenIsFullSizeTime: at the exact rate a film lasts as long as the ship takes: at 1:100 times ×10 (MO-14, Froude's rule).
func TestOnScreenIsFullSizeTime(t *testing.T) {
	for i, c := range Cameras(100) {
		near(t, "exact", c.Exact, 10*Bases[i], 0)
		c.Rate = c.Exact
		near(t, "7 s of the model", c.OnScreen(7), 70, 1e-12)
		near(t, "slow", c.Slow(), 0, 1e-15)
		near(t, "stops", c.Stops(), math.Log2(10), 1e-12)
	}
	c := Camera{Base: 24, Exact: ExactRate(96, 24), Rate: 240}
	near(t, "10 s filmed at 240, shown at 24", c.OnScreen(10), 100, 1e-12)
	near(t, "slower than the ship", c.Slow(), 100/(10*math.Sqrt(96))-1, 1e-12)
}

// TestFlicker: rates that divide twice the mains' frequency are safe at any shutter (common practice: 24 in a land of 60 Hz, 25 in
// one of 50 Hz), and none above it.
func TestFlicker(t *testing.T) {
	for _, c := range []struct {
		rate, mains float64
		want        flicker
	}{{24, 60, noFlicker}, {24, 50, byShutter}, {25, 50, noFlicker}, {25, 60, byShutter}, {120, 60, noFlicker}, {120, 50, alwaysRisks}, {240, 60, alwaysRisks}, {96, 50, byShutter}} {
		if got := flickerAt(c.rate, c.mains); got != c.want {
			t.Errorf("%g frames under %g Hz: %d, want %d", c.rate, c.mains, got, c.want)
		}
	}
}

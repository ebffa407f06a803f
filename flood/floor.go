package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// floor is the pool's, and the points of a body that may touch it. It gives way like a spring that the body's weight presses in by
// a ten thousandth of its length, with a damper that lets nothing bounce: far too stiff for explicit steps, and nothing to
// those of the engine. It bears upward only, and nothing rubs on it.
type floor struct {
	depth float64 // m; +Inf: bottomless
	body  *compartment.Body
	give  float64 // m under the body's weight
	bears float64 // per m, m³ of water's weight
	damps float64 // per m/s
}

// giveShare of its length is how far the floor gives way under a body.
const giveShare = 1e-4

func newFloor(b *compartment.Body, v *compartment.Vessel) floor {
	f := floor{depth: v.Depth, body: b}
	if math.IsInf(f.depth, 1) {
		return f
	}
	lo, hi := b.Form.Bounds()
	f.give = giveShare * math.Max(hi.X-lo.X, math.Max(hi.Y-lo.Y, hi.Z-lo.Z))
	weight := b.Form.Volume()
	f.bears = weight / f.give
	f.damps = 12 * math.Sqrt(f.bears*weight/hydro.Gravity) // six times critical, since the water about it moves along
	return f
}

// near tells whether the body reaches down to the floor.
func (f *floor) near(p compartment.Pose) bool {
	if math.IsInf(f.depth, 1) {
		return false
	}
	low, _ := f.body.Form.Reach(p.Up)
	return low-p.Sea < -f.depth
}

// press adds the floor's force on a body at the pose of its balance, moving along the tangents, to its forces, and what it is by
// pose and velocity to stiffness and drag. It returns the force, m³ of water's weight.
func (f *floor) press(b *compartment.Balance, along [3]float64, push *[3]float64, stiff, drag *[3][3]float64) (sum float64) {
	if !f.near(b.Pose) {
		return 0
	}
	for _, x := range f.body.Feet() {
		in := -f.depth - b.Pose.Height(x)
		if in <= 0 {
			continue
		}
		arm := [3]float64{r3.Dot(b.Pitch, x), r3.Dot(b.Roll, x), -1} // by which the point rises
		sinks := -(arm[0]*along[0] + arm[1]*along[1] + arm[2]*along[2])
		hold := f.damps * math.Min(1, in/f.give)
		force := f.bears*in + hold*sinks
		if force <= 0 {
			continue
		}
		sum += force
		stiffness := f.bears
		if in < f.give {
			stiffness += math.Max(0, f.damps/f.give*sinks)
		}
		turns := force * r3.Dot(b.Pose.Up, x) // the arms turn with the body
		stiff[0][0] += turns
		stiff[1][1] += turns
		for a := range arm {
			push[a] += force * arm[a]
			for c := range arm {
				stiff[a][c] += stiffness * arm[a] * arm[c]
				drag[a][c] += hold * arm[a] * arm[c]
			}
		}
	}
	return sum
}

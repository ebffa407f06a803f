package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

// chart gives the poses near one of them three coordinates, in which a step of free motion is taken: the up direction's
// central projection on the plane across that at the chart's middle, and how much the sea is higher. All derivatives at its
// middle are those along the tangents there.
type chart struct {
	middle      compartment.Pose
	pitch, roll r3.Vec
}

func chartAt(p compartment.Pose) chart {
	pitch, roll := compartment.Tangents(p.Up)
	return chart{p, pitch, roll}
}

// places are the coordinates of a pose less than a right angle away.
func (c *chart) places(p compartment.Pose) [3]float64 {
	n := r3.Dot(p.Up, c.middle.Up)
	return [3]float64{r3.Dot(p.Up, c.pitch) / n, r3.Dot(p.Up, c.roll) / n, p.Sea - c.middle.Sea}
}

// pose is where the coordinates lead, and how fast it changes at a velocity in them.
func (c *chart) pose(q, v [3]float64) (compartment.Pose, rates) {
	long := r3.Add(c.middle.Up, r3.Add(r3.Scale(q[0], c.pitch), r3.Scale(q[1], c.roll)))
	size := math.Sqrt(1 + q[0]*q[0] + q[1]*q[1])
	up := r3.Scale(1/size, long)
	fast := r3.Scale(1/size, r3.Add(r3.Scale(v[0], c.pitch), r3.Scale(v[1], c.roll)))
	fast = r3.Sub(fast, r3.Scale(r3.Dot(fast, up), up))
	return compartment.Pose{Up: up, Sea: c.middle.Sea + q[2]}, rates{fast, v[2]}
}

// slopes are how the tangents' turns at a pose change with the coordinates: [of pitch, of roll][with each of the two].
func (c *chart) slopes(q [3]float64, up, pitch, roll r3.Vec) (j [2][2]float64) {
	size := math.Sqrt(1 + q[0]*q[0] + q[1]*q[1])
	for a, t := range [2]r3.Vec{c.pitch, c.roll} {
		across := r3.Sub(t, r3.Scale(r3.Dot(t, up), up))
		j[0][a], j[1][a] = r3.Dot(across, pitch)/size, r3.Dot(across, roll)/size
	}
	return j
}

// forward takes a velocity in the chart to one along the tangents.
func forward(j *[2][2]float64, v [3]float64) [3]float64 {
	return [3]float64{j[0][0]*v[0] + j[0][1]*v[1], j[1][0]*v[0] + j[1][1]*v[1], v[2]}
}

// pullBack takes a force along the tangents to one on the chart's coordinates.
func pullBack(j *[2][2]float64, f [3]float64) [3]float64 {
	return [3]float64{j[0][0]*f[0] + j[1][0]*f[1], j[0][1]*f[0] + j[1][1]*f[1], f[2]}
}

// pushForward is the way back.
func pushForward(j *[2][2]float64, f [3]float64) [3]float64 {
	det := j[0][0]*j[1][1] - j[0][1]*j[1][0]
	return [3]float64{(j[1][1]*f[0] - j[1][0]*f[1]) / det, (j[0][0]*f[1] - j[0][1]*f[0]) / det, f[2]}
}

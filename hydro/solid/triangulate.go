package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// triangulate lays triangles over a plane loop, by indices of its corners; normal is the side from which it runs
// counterclockwise, or, for a hole, clockwise. A convex loop gets a fan from its first corner. Another one is cut ear by
// ear, so that no triangle reaches out of it; where no ear is to be found (a loop that crosses itself) the rest is fanned, and
// what reaches out does so twice in opposite sense: every integral stays right, whichever way.
func triangulate(loop []r3.Vec, normal r3.Vec) [][3]int {
	e := earCutter{flat: flatten(loop, normal)}
	e.rest = make([]int, len(loop))
	for i := range e.rest {
		e.rest[i] = i
	}
	if e.area() < 0 {
		for i := range e.flat {
			e.flat[i][0] = -e.flat[i][0]
		}
	}
	if !e.convex() {
		e.work = earWork * len(loop)
		for k := e.ear(); k >= 0; k = e.ear() {
			e.cut(k)
		}
	}
	for i := 2; i < len(e.rest); i++ {
		e.out = append(e.out, [3]int{e.rest[0], e.rest[i-1], e.rest[i]})
	}
	return e.out
}

// flatten drops the axis on which the normal is longest.
func flatten(loop []r3.Vec, n r3.Vec) [][2]float64 {
	flat := make([][2]float64, len(loop))
	for i, v := range loop {
		switch ax, ay, az := math.Abs(n.X), math.Abs(n.Y), math.Abs(n.Z); {
		case ax >= ay && ax >= az:
			flat[i] = [2]float64{v.Y, v.Z}
		case ay >= az:
			flat[i] = [2]float64{v.Z, v.X}
		default:
			flat[i] = [2]float64{v.X, v.Y}
		}
	}
	return flat
}

type earCutter struct {
	flat [][2]float64
	rest []int
	out  [][3]int
	work int // comparisons that may still be spent
}

// earWork bounds the work, which grows with the square of the corners or faster, to so many comparisons for each corner.
const earWork = 2000

// turn is twice the area of a triangle of corners.
func (e *earCutter) turn(i, j, k int) float64 {
	a, b, c := e.flat[i], e.flat[j], e.flat[k]
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

func (e *earCutter) area() (a float64) {
	for i := 2; i < len(e.rest); i++ {
		a += e.turn(0, i-1, i)
	}
	return a
}

// at is the k-th corner left, counted round.
func (e *earCutter) at(k int) int { return e.rest[(k+len(e.rest))%len(e.rest)] }

// convex tells whether the corners left turn one way only, and once around: then every triangle of a fan does too.
func (e *earCutter) convex() bool {
	for k := range e.rest {
		if e.turn(e.at(k-1), e.at(k), e.at(k+1)) < 0 || e.turn(e.rest[0], e.at(k), e.at(k+1)) < 0 {
			return false
		}
	}
	return true
}

// ear finds a corner whose triangle holds no other corner; −1: none.
func (e *earCutter) ear() int {
	for k := 0; k < len(e.rest) && e.work > 0; k++ {
		if e.isEar(k) {
			return k
		}
	}
	return -1
}

func (e *earCutter) isEar(k int) bool {
	i, j, l := e.at(k-1), e.at(k), e.at(k+1)
	e.work--
	if len(e.rest) < 4 || e.turn(i, j, l) <= 0 {
		return false
	}
	for _, p := range e.rest {
		e.work--
		if q := e.flat[p]; q == e.flat[i] || q == e.flat[j] || q == e.flat[l] {
			continue
		}
		if e.turn(i, j, p) >= 0 && e.turn(j, l, p) >= 0 && e.turn(l, i, p) >= 0 {
			return false
		}
	}
	return true
}

func (e *earCutter) cut(k int) {
	e.out = append(e.out, [3]int{e.at(k - 1), e.at(k), e.at(k + 1)})
	e.rest = append(e.rest[:k], e.rest[k+1:]...)
}

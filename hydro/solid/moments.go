package solid

import "gonum.org/v1/gonum/spatial/r3"

// Moments is a symmetric 3×3 matrix of second moments, such as ∫ x xᵀ dV.
type Moments struct{ XX, YY, ZZ, XY, XZ, YZ float64 }

// Apply returns M·v.
func (m Moments) Apply(v r3.Vec) r3.Vec {
	return r3.Vec{
		X: m.XX*v.X + m.XY*v.Y + m.XZ*v.Z,
		Y: m.XY*v.X + m.YY*v.Y + m.YZ*v.Z,
		Z: m.XZ*v.X + m.YZ*v.Y + m.ZZ*v.Z,
	}
}

// Add returns m + o.
func (m Moments) Add(o Moments) Moments {
	return Moments{
		XX: m.XX + o.XX, YY: m.YY + o.YY, ZZ: m.ZZ + o.ZZ,
		XY: m.XY + o.XY, XZ: m.XZ + o.XZ, YZ: m.YZ + o.YZ,
	}
}

// Scale returns f·m.
func (m Moments) Scale(f float64) Moments {
	return Moments{
		XX: f * m.XX, YY: f * m.YY, ZZ: f * m.ZZ,
		XY: f * m.XY, XZ: f * m.XZ, YZ: f * m.YZ,
	}
}

// outer is v vᵀ.
func outer(v r3.Vec) Moments {
	return Moments{
		XX: v.X * v.X, YY: v.Y * v.Y, ZZ: v.Z * v.Z,
		XY: v.X * v.Y, XZ: v.X * v.Z, YZ: v.Y * v.Z,
	}
}

// sym is a bᵀ + b aᵀ.
func sym(a, b r3.Vec) Moments {
	return Moments{
		XX: 2 * a.X * b.X, YY: 2 * a.Y * b.Y, ZZ: 2 * a.Z * b.Z,
		XY: a.X*b.Y + b.X*a.Y, XZ: a.X*b.Z + b.X*a.Z, YZ: a.Y*b.Z + b.Y*a.Z,
	}
}

// moved takes second moments about a point to the axes from which that point is seen at c, given the measure (volume or
// area) and the first moment about the point: ∫(x + c)(x + c)ᵀ.
func (m Moments) moved(c r3.Vec, measure float64, first r3.Vec) Moments {
	return m.Add(sym(first, c)).Add(outer(c).Scale(measure))
}

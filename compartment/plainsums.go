package compartment

// plainSums are the sums over strips that make up a 6×6 tensor over velocity and rate of turn.
type plainSums struct {
	mass, massX, massXX [3]float64 // yy, yz, zz: Σ a, Σ a x, Σ a x², a of each strip across x
	lever, leverX       [2]float64 // Σ a·l, Σ x a·l: l the velocity across x that a turn about x gives the strip's centre
	roll                float64    // Σ l·a·l and what the strips have about their centres
	axial               [6]float64 // along x: m, m z, −m y, m z², −m z y, m y², at the centre
}

// addStrip adds a strip: a is its tensor across x, roll what it has about its centre.
func (t *plainSums) addStrip(x, length float64, a [3]float64, roll, y, z float64) {
	xx := x*x + length*length/12
	for i := range a {
		t.mass[i] += a[i]
		t.massX[i] += x * a[i]
		t.massXX[i] += xx * a[i]
	}
	ly, lz := a[1]*y-a[0]*z, a[2]*y-a[1]*z
	t.lever[0], t.lever[1] = t.lever[0]+ly, t.lever[1]+lz
	t.leverX[0], t.leverX[1] = t.leverX[0]+x*ly, t.leverX[1]+x*lz
	t.roll += roll + lz*y - ly*z
}

// addAxial adds what moves along x with a centre.
func (t *plainSums) addAxial(m, y, z float64) {
	for i, c := range [6]float64{m, m * z, -m * y, m * z * z, -m * z * y, m * y * y} {
		t.axial[i] += c
	}
}

// lay writes the tensor. The strips' velocities across x are v_y − ω_x z + ω_z x and v_z + ω_x y − ω_y x, that along x is
// v_x + ω_y z − ω_z y.
func (t *plainSums) lay(m *[6][6]float64) {
	const yy, yz, zz = 0, 1, 2
	*m = [6][6]float64{}
	m[0][0], m[0][4], m[0][5] = t.axial[0], t.axial[1], t.axial[2]
	m[1][1], m[1][2], m[2][2] = t.mass[yy], t.mass[yz], t.mass[zz]
	m[1][3], m[2][3], m[3][3] = t.lever[0], t.lever[1], t.roll
	m[1][4], m[1][5] = -t.massX[yz], t.massX[yy]
	m[2][4], m[2][5] = -t.massX[zz], t.massX[yz]
	m[3][4], m[3][5] = -t.leverX[1], t.leverX[0]
	m[4][4] = t.massXX[zz] + t.axial[3]
	m[4][5] = t.axial[4] - t.massXX[yz]
	m[5][5] = t.massXX[yy] + t.axial[5]
	for i := range 6 {
		for k := range i {
			m[i][k] = m[k][i]
		}
	}
}

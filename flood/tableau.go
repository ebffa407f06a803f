package flood

// The time steps are those of ESDIRK4(3)6L[2]SA of Kennedy & Carpenter, Appl. Numer. Math. 44 (2003) 139: six stages, the
// first explicit, the others with one and the same diagonal, L-stable, stiffly accurate (the last stage is the step's
// end), order 4 with an embedded order 3. The coefficients are from memory; TestOrderConditions holds them against the
// order conditions themselves.
const (
	stages   = 6
	diagonal = 1.0 / 4
)

var stageAt = [stages]float64{0, 1.0 / 2, 83.0 / 250, 31.0 / 50, 17.0 / 20, 1}

var weights = [stages][stages]float64{
	{},
	{1.0 / 4, diagonal},
	{8611.0 / 62500, -1743.0 / 31250, diagonal},
	{5012029.0 / 34652500, -654441.0 / 2922500, 174375.0 / 388108, diagonal},
	{15267082809.0 / 155376265600, -71443401.0 / 120774400, 730878875.0 / 902184768, 2285395.0 / 8070912, diagonal},
	{82889.0 / 524892, 0, 15625.0 / 83664, 69875.0 / 102672, -2260.0 / 8211, diagonal},
}

var embedded = [stages]float64{
	4586570599.0 / 29645900160, 0, 178811875.0 / 945068544, 814220225.0 / 1159782912, -3700637.0 / 11593932, 61727.0 / 225920,
}

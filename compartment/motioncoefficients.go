package compartment

// The coefficients of added mass and damping, with their sources. docs/motion.md has the formulas, and how far off they are.
const (
	// Added mass of sections that are no ellipses, fitted to rectangles 2a × 2b (J. N. Newman, Marine Hydrodynamics, 1977,
	// table 4.3; DNV-RP-C205, appendix D; both from memory): across b/a = 0, 0.1, 0.2, 0.5, 1, 2 1.00, 1.14, 1.21, 1.36, 1.51,
	// 1.70 times ρπa², met within 3 %; in roll a/b = 1, 2, 5, 10, ∞ 0.234, 0.15, 0.15, 0.147, 0.125 times ρπa⁴, within 10 %.
	squareExcess = 0.186 // q of a square: 1.51 π/4 = 1 + 0.186
	plateExcess  = 0.274 // 1/p of a plate is 1 + this: π/4
	plateRoll    = 0.695 // 1/p₄ of a plate is 1 + this: 3π/16 = 0.59
	squareRoll   = 0.255 // and towards the square
	cornerRoll   = 0.55  // q₄: 0.234 π × 3/4

	// In the surface as a wall: of a half ellipse in roll about its point in the surface 0.318 ρ(b² − T²)², of which 0.283 are
	// its sway (a series in cos nη); half of the double ellipse has 0.196. The centre of sway of a half square lies some 0.23 T
	// under the surface (the side's moment less the bottom's, with a potential that is even along the side and linear along
	// the bottom: an estimate of ours).
	surfaceRoll = 0.18
	cornerLever = 0.5

	// Bluntness by the area that is lacking: 1 of a parallelogram (lack 1 − 3/π), 3.2 of an equilateral triangle, whose added
	// mass across is 1.581 ρA by its conformal radius, 0.42175 of a side (closed form: Γ(1/3)³√3/(8π²)).
	bluntScale = 4.4 / 0.1843
	bluntBend  = 1.7
	roundedBy  = 0.002 // the lack is smoothed near 0 over about this

	// How the image in the surface fades with depth, so that of two equal circles in line with each other, r in radius and 2h
	// apart, 1 − 2(r/2h)² of the free value is left (Lamb, §98 and §138, from memory) where h > 1.5 r; nearer it is rough: 0.85
	// where they touch, and 0.645 is right.
	imageFading = 0.18

	// Ends that stand across x add to a spheroid's added mass along x: c ρ E √A λ/(λ + d), E the area of both ends halved, A
	// the section with its image; fitted to square prisms, whose added masses along x are 0.68, 0.36, 0.24, 0.19, 0.15, 0.13,
	// 0.11, 0.08 of the displaced at length over side 1 to 7 and 10 (DNV-RP-C205, appendix D, from memory), met within 2 %.
	endsMass     = 0.8
	endsSlimness = 3.4

	// Drag across, over breadth facing the flow: long cylinder 1.20, long plate 1.98 (MO-08: J. Matthews, Aeronautical
	// Engineer's Data Book, 2002, p. 95); square 2.0, rectangles the longer along the flow less (S. F. Hoerner, Fluid-Dynamic
	// Drag, 1965, chapter III, from memory: 2:1 1.6, 3:1 1.3, 5:1 0.9).
	dragRound    = 1.20
	dragSharp    = 1.98
	dragAlong    = 1.7    // length over breadth where the drag begins to fall
	roundBreadth = 1.1027 // a circle's diameter over area/√(12 S), 4√3/(2π)

	// Drag across of a body of finite length over that of a long one, by ln(l/d): cylinders 0.63, 0.68, 0.74, 0.82, 0.98 over
	// 1.20 at l/d 1, 2, 5, 10, 40 (MO-08, the same page), met within 2.5 %.
	finiteDrag, finiteDrag1, finiteDrag2 = 0.53, 0.04, 0.0104

	// Drag along x over the area of the ends that stand across it: cylinder along its axis 0.91, 0.85, 0.87, 0.99 at l/d 1, 2,
	// 4, 7 (MO-09, the same page), disc 1.12 (MO-10: engineersedge.com); of what is rounded that of a spheroid, 0.44 d/l over
	// its largest section (S. F. Hoerner, Fluid-Dynamic Drag, 1965, chapter III, from memory; sphere 0.45, MO-10).
	dragEnds   = 0.88
	dragDisc   = 0.24 // and so much more of a disc
	dragSphere = 0.44

	// Roll of a bare hull: M = c ρ r⁴ |ω| ω per metre, r the distance of a rectangle's corners from the centre: the eddy part
	// of a rectangular section, (2/π) ρ d⁴ (H₀² + 1)² φ_a ω, as quadratic damping (ITTC 7.5-02-07-04.5, 2011, from memory).
	rollEddies = 0.75

	// Wave making, by Haskind's relation (J. N. Newman, Journal of Ship Research 6, 1962, from memory), of heave at the wave number of the
	// hull's own, of sway and roll at half the frequency of that (our choice).
	slowWaves = 0.25 // wave number of roll over that of heave

	// How much deeper than a half ellipse of as much second moment a rectangle throws a long wave back, over (b²/3)/(T/√3): fitted to
	// boxes of 0.8 m by 0.2 m at drafts of 40, 80 and 160 mm by the panel method of the tests: −16, 20, 65 mm, by the fit −16, 21, 69.
	wavesLever = 0.6

	// Friction: round a circle that moves across its axis the water slips by at 2 sin θ of its velocity, whose mean square is 2.
	slips = 2
)

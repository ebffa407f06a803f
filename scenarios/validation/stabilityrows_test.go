package validation

import "math"

const (
	derrett  = "Derrett & Barrass, Ship Stability, 5th ed., "
	halfUnit = "half a unit of the digits printed, through the slope of the arm"
	byRule   = "the source leaves ½BM·tan²θ out, and rounds"
	byLost   = "the water inside runs to the sea's level; digits printed"
)

var stabilityChecks = []check{
	{"ST-14a", "box of 65 × 12 × 8 m drawing 4 m, KG 4: GM", derrett + "p. 130 ex. 2", read, "1", "m", plain(1e-6), "exact", upGM(10, ship(10, 65, 12, 8, 4, 0, 4))},
	{"ST-23", "box of 4 × 2 × 1 m drawing 0.6 m: GM", "Das, Fluid Mechanics, ex. 4.6, " + tri, read, "0.3556", "m", printed(4), toPrint, upGM(1, ship(1, 4, 2, 1, 0.6, 0, 0.5))},
	{"ST-34", "barge of 40 × 16 × 8 ft drawing 6 ft: GM", "Pao, Fluid Mechanics, ex. 2.8, " + tri, read, "2.556", "ft", printed(3), toPrint, upGM(10, ship(10, 40, 16, 8, 6, 0, 4))},
	{"ST-32a", "pontoon of 91 × 30 × 6 ft drawing 4 ft, 60 of its 312 tons 7 ft up, the rest 3 ft: GM", "Dighe ex. 2.10, " + tri, read, "16.98", "ft", printed(2), toPrint,
		upGM(10, ship(10, 91, 30, 6, 4, 0, (60*7+(312-60)*3)/312.))},
	{"ST-33", "cylindrical buoy of 1 m, 80 kg at 0.75 m, a man of 10 kg at 1.5 m, 1026 kg/m³: GM", "Massey & Ward-Smith, Mechanics of Fluids, ex. 2.4, " + tri, read, "-0.2179", "m", plain(2e-4), "the circle has 240 corners: 2e-4 of BM, 0.13 mm; as printed", buoyWithMan},
	{"ST-22", "buoy of 1.8 × 1.2 m, 10 kN at 0.45 m, 1025 kg/m³: greatest height of a load of 2 kN", "Douglas et al. ex. 3.6, " + tri, read, "1.7477", "m", plain(1e-3), "the circle has 240 corners, of 3e-4 of BM: a mm of the height",
		highest(1, 1.8, 1.2, 1025, 10e3/9.81, 0.45, 2e3/9.81)},
	{"ST-36", "buoy of 6 ft, 2500 lb 1.5 ft up, 64 lb/ft³: greatest height of 500 lb", "Lewitt, Hydraulics, ex. 2.4, " + tri, read, "5.62", "ft", plain(0.01), "as printed, and the corners of the circle",
		highest(0.3, 6, 4, 1000, 2500*1000/64., 1.5, 500*1000/64.)},
	{"ST-17", "8500 t, a moment of 300 t·m: shift of the centre of mass", derrett + "p. 117", read, "0.035", "m", printed(3), toPrint, shifted},
	{"ST-28", "16 MN, GM 1.1449 m, 160 kN moved by 6 m: tan of the heel, of 3°", "Sarkar, Fluid Mechanics, ex. 2.14, " + tri, read, "0.052408", "", share(1e-3), chords + "·R/GM, and as printed", inclined(16000, 160, 6, 1.1449, 12)},
	{"ST-29", "3000 tons, GM 4.5 ft, 15 tons moved by 30 ft: tan of the heel, 1 in 30", "Lewitt ex. 2.2, " + tri, read, "0.033333", "", share(1e-3), chords + "·R/GM", inclined(3000, 15, 30, 4.5, 40)},
	{"ST-30", "2000 tons, GM 3.6 ft, 15 tons moved by 24 ft: tan of the heel, 3 in in 5 ft", "Dighe ex. 2.7, " + tri, read, "0.05", "", share(1e-3), chords + "·R/GM", inclined(2000, 15, 24, 3.6, 40)},
	{"ST-54", "10 000 t, GM 0.5 m: heel at which the moment of statical stability is 674.25 t·m", "Derrett & Barrass, Ship Stability, 6th ed., ex. 15.1", read, "7.75", "°", plain(5e-3), "as printed; " + chords + "·R/GM", statical},
	{"ST-18", "8153.75 t, a full tank of 15 × 10 × 2 m pumped out to half: GM", derrett + "p. 195 ex. 1", computed, "0.2245", "m", printed(4), "as printed by a second hand; the source's answer was not read", pumpedOut},
	{"ST-19a", "loss of GM by a tank of 10 × 6 m in 1000 t", derrett + "p. 195", read, "0.1845", "m", printed(4), toPrint, freeSurface(1)},
	{"ST-19b", "the same in two cells", derrett + "p. 195", read, "0.0461", "m", printed(4), toPrint, freeSurface(2)},
	{"ST-19c", "the same in three cells", derrett + "p. 195", read, "0.0205", "m", printed(4), toPrint, freeSurface(3)},
	{"ST-51", "box of 0.2 m drawing 0.08 m, KG 0.05: heel by arms of 2.77383, 5.61134, 11.77457, 19.30556 mm", "GZ = sinθ(GM + ½BM·tan²θ)", closed, "5 / 10 / 20 / 30", "°", plain(1e-5), halfUnit,
		heels(ship(1, 1, 0.2, 0.2, 0.08, arm(2.77383e-3, 5), 0.05), ship(1, 1, 0.2, 0.2, 0.08, arm(5.61134e-3, 10), 0.05),
			ship(1, 1, 0.2, 0.2, 0.08, arm(11.77457e-3, 20), 0.05), ship(1, 1, 0.2, 0.2, 0.08, arm(19.30556e-3, 30), 0.05))},
	{"ST-52", "the same box, KG 0.085: angle of loll", "tanθ = √(−2GM/BM)", closed, "21.8014", "°", printed(4), toPrint, heel(ship(1, 1, 0.2, 0.2, 0.08, 0, 0.085))},
	{"ST-13", "KB 3, KM 6, KG 5.5: heel at which the arm is 0.35 m", derrett + "p. 130 ex. 1", read, "25", "°", plain(0.36), halfUnit, heel(ship(100, 100, math.Sqrt(216), 12, 6, arm(0.35, 25), 5.5))},
	{"ST-14b", "the box of ST-14: heel at which the arm is 0.0872 m", derrett + "p. 130 ex. 2", read, "5", "°", plain(0.06), byRule, heel(ship(100, 65, 12, 8, 4, arm(0.0872, 5), 4))},
	{"ST-14c", "the same at an arm of 0.5605 m", derrett + "p. 130 ex. 2", computed, "25", "°", plain(0.003), halfUnit, heel(ship(100, 65, 12, 8, 4, arm(0.5605, 25), 4))},
	{"ST-15", "box of 0.2 m drawing 0.08 m with 20 mm of water in a trunk 0.1 m wide all along it, GM −0.3 mm by that: angle of loll, tanθ = √(−2GM/BM), BM = (I − i)/V", derrett + "p. 229", computed,
		printf("%.4f", math.Atan(math.Sqrt(0.0006/trunkBM))/degree), "°", plain(1e-4), "wall-sided: exact", heel(trunked(-0.0003))},
	{"ST-16", "log with 2GM −0.55, BM 0.625: angle of loll 43° 10'", derrett + "p. 231", read, "43.1667", "°", plain(0.5 / 60), "half a minute", heel(ship(10, 10, math.Sqrt(7.5*3), 6, 3, 0, 1.5+0.625+0.275))},
	{"ST-55", "GM −0.08, BM 5 m: angle of loll", "Tupper, Introduction to Naval Architecture, p. 62", computed, "10.14", "°", printed(2), toPrint, heel(ship(100, 150, math.Sqrt(60*5), 12, 5, 0, 2.5+5+0.08))},
	{"ST-56", "12 250 t, KM = KG, BM 4.2 m, 2 t moved by 12 m: list", "examination question (meomock.com)", computed, "5.58", "°", printed(2), toPrint, heel(ship(100, 150, math.Sqrt(12*7.6*4.2), 15, 7.6, -2*12/12250., 8))},
	{"ST-32b", "the pontoon of ST-32: heel by 60 tons moved 4.63 ft", "Dighe ex. 2.10, " + tri, read, "3", "°", plain(0.01), byRule, heel(ship(10, 91, 30, 6, 4, -4.63*60/(91*30*4*64/2240.), (60*7+(312-60)*3)/312.))},
	{"ST-38, ST-39", "square logs where they just stand: GM/side upright at s 0.211325, 0.788675, on edge at 9/32, 23/32", "Reid, Am. J. Phys. 31 (1963) 565", read, "0 / 0 / 0 / 0", "", plain(1e-6), "exact; the borders to six digits", logBorders},
	{"ST-40a", "square log of s 0.22, 0.23, 0.24: heel, tan²θ = 12 s(1 − s) − 2", "Reid 1963", computed, "13.675 / 19.486 / 23.486", "°", plain(6e-4), "as printed; the last rounds to 23.485", heels(log(0.22), log(0.23), log(0.24))},
	{"ST-40b", "square log of s 0.28", "Reid 1963", computed, "41.2", "°", printed(1), toPrint, heel(log(0.28))},
	{"ST-41, ST-42", "just stable: rectangle of s 0.3, (b/h)² = 6 s(1 − s), and upright cylinder of s 0.5, D/H = √2: GM over the height", "classical", closed, "0 / 0", "", plain(1e-4), chords, justStable},
	{"ST-01a", "150 × 24 × 12 m drawing 5 m, 20 m amidships bilged, empty: draft", derrett + "p. 206 ex. 2", read, "5.77", "m", printed(2), byLost, only(0, amidships(150, 24, 12, 5, 11.2, 20, 1))},
	{"ST-01b", "the same, GM (lost buoyancy)", derrett + "p. 206 ex. 2", computed, "0.0046", "m", plain(1e-4), byLost, only(1, amidships(150, 24, 12, 5, 11.2, 20, 1))},
	{"ST-02", "100 × 15 m drawing 5 m, 10 m bilged, permeability 0.25: draft. Printed: 5.138 by (L − l)B; with (L − μl)B it is", "Derrett ex. 22.1", computed, "5.1282", "m", printed(4), byLost, only(0, amidships(100, 15, 10, 5, 4, 10, 0.25))},
	{"ST-03", "60 × 15 m drawing 3 m, 12 m bilged, permeability 0.3489: draft. Printed: +0.26167 m by (L − l)B; with (L − μl)B it is", "Derrett ex. 22.3", computed, "3.2250", "m", printed(4), byLost, only(0, amidships(60, 15, 8, 3, 3, 12, 0.3489))},
	{"ST-04", "40 × 6 m drawing 2 m, GM 0.6, 10 m bilged, empty: GM (lost buoyancy); printed 0.558", "Derrett ex. 22.4", read, "0.5583", "m", printed(4), byLost, only(1, amidships(40, 6, 5, 2, 1+36./24-0.6, 10, 1))},
	{"ST-05", "150 × 20 m drawing 5 m, 15 m bilged, permeability 1/6: draft", "Stability problems, set no. 2", read, "5.085", "m", printed(3), byLost, only(0, amidships(150, 20, 12, 5, 5, 15, 1./6))},
	{"ST-09", "64 × 10 m drawing 5 m, fore 6 m bilged up to 3.5 m, permeability 0.25: drafts aft and fore, exact", "Derrett ex. 22.12", memory, "4.8592 / 5.3049", "m", plain(1e-4), byLost, endBilged(64, 5, 6, 3.5, 2.5, 0.25)},
	{"ST-10", "75 × 10 m drawing 4.5 m, fore 5 m bilged to the deck: drafts by small angles", "Derrett ch. 21", memory, "3.788 / 6.002", "m", plain(4e-3), "small angles; exactly it is 3.7907 and 5.9994", endBilged(75, 4.5, 5, 6, 2.25, 1)},
	{"ST-11", "1.0 × 0.2 m drawing 0.08 m, wing tank of 0.25 × 0.05 m bilged: heel and draft on the centreline", "exact equilibrium", closed, "9.4640 / 0.086167", "°; m", share(1.1e-5), byLost, wing},
}

package plan

import (
	"math"
	"slices"
)

// Piece is one whole piece of ballast as it lies: a coin by its envelope, a strip by its sides.
type Piece struct {
	Name                    string
	Mass                    float64 // kg
	Length, Breadth, Height float64 // m, along x, y and z
	Volume                  float64 // m³, of its envelope
}

// coin is a struck piece: mass in grams, diameter and thickness in mm.
type coin struct {
	name                string
	mass, across, thick float64
}

// The coins. Euro: Council Regulation (EC) 975/98 (now EU 729/2014), masses, diameters and thicknesses. United States: masses
// by the US Mint; United Kingdom: masses and diameters by the Royal Mint; both, and their other measures, from memory.
var coins = []coin{
	{"1-euro-cent", 2.30, 16.25, 1.67}, {"2-euro-cent", 3.06, 18.75, 1.67}, {"5-euro-cent", 3.92, 21.25, 1.67},
	{"10-euro-cent", 4.10, 19.75, 1.93}, {"20-euro-cent", 5.74, 22.25, 2.14}, {"50-euro-cent", 7.80, 24.25, 2.38},
	{"1-euro", 7.50, 23.25, 2.33}, {"2-euro", 8.50, 25.75, 2.20},
	{"us-cent", 2.500, 19.05, 1.52}, {"us-nickel", 5.000, 21.21, 1.95}, {"us-dime", 2.268, 17.91, 1.35},
	{"us-quarter", 5.670, 24.26, 1.75},
	{"uk-1p", 3.56, 20.3, 1.65}, {"uk-2p", 7.12, 25.9, 2.03}, {"uk-pound", 8.75, 23.43, 2.80},
}

// CoinNames are the coins that Coin knows.
func CoinNames() []string {
	names := make([]string, len(coins))
	for i, c := range coins {
		names[i] = c.name
	}
	return names
}

// Coin is the coin of that name, lying flat.
func Coin(name string) (Piece, bool) {
	i := slices.IndexFunc(coins, func(c coin) bool { return c.name == name })
	if i < 0 {
		return Piece{}, false
	}
	c := coins[i]
	d, t := c.across/1000, c.thick/1000
	return Piece{Name: name, Mass: c.mass / 1000, Length: d, Breadth: d, Height: t, Volume: math.Pi / 4 * d * d * t}, true
}

// stripLength is what a strip is cut to, m: long enough to handle, short enough to trim with (common practice, no source).
const stripLength = 0.02

// Strip is a strip of that cross-section, m, laid along x, cut to lengths of 20 mm.
func Strip(breadth, height, density float64) Piece {
	v := stripLength * breadth * height
	return Piece{Name: "strip", Mass: density * v, Length: stripLength, Breadth: breadth, Height: height, Volume: v}
}

// ShotPacking is the share of its room that poured shot fills: 0.60 loose to 0.64 shaken down (random packing of spheres,
// Scott 1960; from memory). Poured ballast is nearer the first.
const ShotPacking = 0.60

package scenarios

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strconv"
	"strings"
)

// Kind is what a quantity measures.
type Kind uint8

// The kinds of quantity that a scenario knows. Plain is a number that has no unit.
const (
	Plain Kind = iota
	Length
	Mass
	Time
	Force
	Moment
	Volume
	Area
	Temperature
	Angle
	Share
	Density
	SurfaceTension
	Flow
	Pressure
)

// kindFact is what is known of a kind: its name in messages, a sound example, and the size (in SI) past which a value is
// absurd for a floating model. Length and mass limits are the contract's; the others follow from them or are common sense.
type kindFact struct {
	name, example string
	low, high     float64
}

var kindFacts = [...]kindFact{
	Plain:          {"number", "1.5", -1e9, 1e9},
	Length:         {"length", "62 mm", -20, 20},
	Mass:           {"mass", "310 g", -20e3, 20e3},
	Time:           {"time", "2 min", -1e7, 1e7},
	Force:          {"force", "15 N", -1e6, 1e6},
	Moment:         {"moment", "1.2 N.m", -1e6, 1e6},
	Volume:         {"volume", "300 ml", -8000, 8000},
	Area:           {"area", "1.2 cm2", -400, 400},
	Temperature:    {"temperature", "18 C", 173.15, 473.15},
	Angle:          {"angle", "8 deg", -2 * math.Pi, 2 * math.Pi},
	Share:          {"share", "15 %", -10, 10},
	Density:        {"density", "1050 kg/m3", -25e3, 25e3},
	SurfaceTension: {"surface tension", "35 mN/m", -1, 1},
	Flow:           {"flow", "1.2 l/min", -20, 20},
	Pressure:       {"pressure", "200 Pa", -1e7, 1e7},
}

func (k Kind) String() string { return kindFacts[k].name }

// Unit is a unit of measure. The zero Unit is that of a plain number.
type Unit struct {
	Name string
	Kind Kind
	size string // SI units in one of it, exactly, as a decimal or a fraction
	zero string // what is added to a value in it before size applies, exactly; "" is nothing
}

// unitTable holds every unit. Sizes are exact by definition: inch and foot, pound and ounce (avoirdupois) by the
// international agreement of 1959; the pound-force is the pound times 9.80665 m/s²; 0 °C = 273.15 K and 0 °F = 459.67 °R.
var unitTable = [...]Unit{
	{Name: "m", Kind: Length, size: "1"},
	{Name: "cm", Kind: Length, size: "0.01"},
	{Name: "mm", Kind: Length, size: "0.001"},
	{Name: "in", Kind: Length, size: "0.0254"},
	{Name: "ft", Kind: Length, size: "0.3048"},
	{Name: "kg", Kind: Mass, size: "1"},
	{Name: "g", Kind: Mass, size: "0.001"},
	{Name: "lb", Kind: Mass, size: "0.45359237"},
	{Name: "oz", Kind: Mass, size: "0.028349523125"},
	{Name: "s", Kind: Time, size: "1"},
	{Name: "min", Kind: Time, size: "60"},
	{Name: "h", Kind: Time, size: "3600"},
	{Name: "N", Kind: Force, size: "1"},
	{Name: "lbf", Kind: Force, size: "4.4482216152605"},
	{Name: "N.m", Kind: Moment, size: "1"},
	{Name: "lbf.in", Kind: Moment, size: "0.1129848290276167"},
	{Name: "l", Kind: Volume, size: "0.001"},
	{Name: "ml", Kind: Volume, size: "0.000001"},
	{Name: "cm2", Kind: Area, size: "0.0001"},
	{Name: "mm2", Kind: Area, size: "0.000001"},
	{Name: "in2", Kind: Area, size: "0.00064516"},
	{Name: "C", Kind: Temperature, size: "1", zero: "273.15"},
	{Name: "F", Kind: Temperature, size: "5/9", zero: "459.67"},
	{Name: "deg", Kind: Angle, size: "1"},
	{Name: "%", Kind: Share, size: "0.01"},
	{Name: "kg/m3", Kind: Density, size: "1"},
	{Name: "mN/m", Kind: SurfaceTension, size: "0.001"},
	{Name: "l/min", Kind: Flow, size: "1/60000"},
	{Name: "Pa", Kind: Pressure, size: "1"},
}

// usualNames are other ways that people write units, told in the message when one turns up.
var usualNames = map[string]string{
	`"`: "in", "inch": "in", "inches": "in", "'": "ft", "feet": "ft", "foot": "ft", "metre": "m", "metres": "m", "meter": "m",
	"meters": "m", "M": "m", "MM": "mm", "CM": "cm", "lbs": "lb", "gr": "g", "grams": "g", "Kg": "kg", "KG": "kg", "sec": "s",
	"secs": "s", "seconds": "s", "mins": "min", "minutes": "min", "hr": "h", "hours": "h", "Nm": "N.m", "N·m": "N.m", "N*m": "N.m",
	"N-m": "N.m", "in-lbf": "lbf.in", "lbf-in": "lbf.in", "lbf*in": "lbf.in", "L": "l", "mL": "ml", "cc": "ml", "cm3": "ml",
	"cm³": "ml", "cm²": "cm2", "mm²": "mm2", "in²": "in2", "cm^2": "cm2", "mm^2": "mm2", "in^2": "in2", "sqin": "in2",
	"°C": "C", "°F": "F", "degC": "C", "degF": "F", "c": "C", "f": "F", "°": "deg", "degree": "deg", "degrees": "deg",
	"percent": "%", "kg/m^3": "kg/m3", "kg/m³": "kg/m3", "L/min": "l/min", "lpm": "l/min", "dyn/cm": "mN/m", "pa": "Pa",
}

// unitNames gives the names of the units of a kind.
func unitNames(kind Kind) []string {
	var names []string
	for _, u := range unitTable {
		if u.Kind == kind {
			names = append(names, u.Name)
		}
	}
	return names
}

// unitNamed finds a unit by its name.
func unitNamed(name string) (Unit, bool) {
	i := slices.IndexFunc(unitTable[:], func(u Unit) bool { return u.Name == name })
	if i < 0 {
		return Unit{}, false
	}
	return unitTable[i], true
}

// SI gives a number of this unit in SI units (angles in radians, shares as fractions of one, temperatures in kelvin). It is
// taken for the decimal that it is written as, so that the result is the one that the text of the quantity gives.
func (u Unit) SI(number float64) float64 {
	if u.Name == "" || math.IsNaN(number) || math.IsInf(number, 0) {
		return number
	}
	return u.exact(rational(strconv.FormatFloat(number, 'g', -1, 64)))
}

// FromSI gives a value in SI units as a number of this unit, to rounding.
func (u Unit) FromSI(value float64) float64 {
	if u.Kind == Angle {
		return value * (180 / math.Pi)
	}
	if u.Name == "" || math.IsNaN(value) || math.IsInf(value, 0) {
		return value
	}
	x := new(big.Rat).SetFloat64(value)
	x.Quo(x, rational(u.size))
	f, _ := x.Sub(x, rational(u.zero)).Float64()
	return f
}

// Difference gives a difference of so many of this unit in SI units: like SI, but 2 F apart are 1.11 K apart.
func (u Unit) Difference(number float64) float64 {
	u.zero = ""
	return u.SI(number)
}

// exact rounds once, at the end, so that 62 mm is the very float64 that 0.062 is.
func (u Unit) exact(x *big.Rat) float64 {
	if u.Kind == Angle {
		degrees, _ := x.Float64()
		return degrees * (math.Pi / 180)
	}
	if u.Name != "" {
		x = new(big.Rat).Add(x, rational(u.zero))
		x.Mul(x, rational(u.size))
	}
	f, _ := x.Float64()
	return f
}

func rational(text string) *big.Rat {
	if text == "" {
		return new(big.Rat)
	}
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		panic("scenarios: the table of units has a size that is no number: " + text)
	}
	return r
}

// Quantity is a number with its unit, as written in a scenario.
type Quantity struct {
	Number float64 // as written
	Unit   Unit    // the zero Unit: none was written
	Value  float64 // in SI units
}

// String writes the quantity so that ParseQuantity reads it back.
func (q Quantity) String() string {
	number := strconv.FormatFloat(q.Number, 'g', -1, 64)
	if q.Unit.Name == "" {
		return number
	}
	return number + " " + q.Unit.Name
}

// trouble is a fault that has no place yet. It is an error only for those who parse a quantity outside a file.
type trouble struct {
	what, want string
	most       string // where a value is absurd for its kind: the most that is not
}

func (t *trouble) Error() string { return t.what + "; " + t.want }

// ParseQuantity reads a number with its unit, such as `62 mm`, `2 1/2 in` or `15 %`; the space before the unit may be left
// out. With kinds given it must be of one of them, where Plain allows a number without a unit. The error says what is wrong
// and what would be right.
func ParseQuantity(text string, kinds ...Kind) (Quantity, error) {
	q, t := readQuantity(text, kinds)
	if t != nil {
		return Quantity{}, t
	}
	return q, nil
}

func readQuantity(text string, kinds []Kind) (Quantity, *trouble) {
	trimmed := strings.TrimSpace(text)
	number, rest, ok := readNumber(trimmed)
	if !ok {
		return Quantity{}, noQuantity(trimmed, kinds)
	}
	name := strings.TrimSpace(rest)
	if name == "" {
		return plainQuantity(trimmed, number, kinds)
	}
	unit, ok := unitNamed(name)
	if !ok {
		return Quantity{}, noUnit(trimmed, name, kinds)
	}
	if len(kinds) > 0 && !slices.Contains(kinds, unit.Kind) {
		return Quantity{}, &trouble{what: fmt.Sprintf("%s is %s", quote(trimmed), article(unit.Kind.String())), want: due(kinds)}
	}
	return sized(trimmed, number, unit)
}

// plainQuantity is a number without a unit: right for Plain, else it is told which units it could be.
func plainQuantity(text string, number *big.Rat, kinds []Kind) (Quantity, *trouble) {
	if len(kinds) == 0 || slices.Contains(kinds, Plain) {
		return sized(text, number, Unit{})
	}
	return Quantity{}, &trouble{what: fmt.Sprintf("%s has no unit", quote(text)), want: due(kinds)}
}

// sized makes the quantity and refuses what is absurdly large.
func sized(text string, number *big.Rat, unit Unit) (Quantity, *trouble) {
	written, _ := number.Float64()
	q := Quantity{Number: written, Unit: unit, Value: unit.exact(number)}
	fact := kindFacts[unit.Kind]
	if !(q.Value >= fact.low && q.Value <= fact.high) {
		low, high := inUnit(fact.low, unit), inUnit(fact.high, unit)
		return Quantity{}, &trouble{
			what: fmt.Sprintf("%s is absurd for %s here", quote(text), article(fact.name)),
			want: fmt.Sprintf("something from %s to %s", low, high),
			most: high,
		}
	}
	return q, nil
}

// inUnit writes an SI value in a unit, to five digits: for messages.
func inUnit(value float64, unit Unit) string {
	number := strconv.FormatFloat(unit.FromSI(value), 'g', 5, 64)
	if unit.Name == "" {
		return number
	}
	return number + " " + unit.Name
}

// noQuantity says why a text does not begin with a number.
func noQuantity(text string, kinds []Kind) *trouble {
	bare := strings.ToLower(strings.Fields(strings.TrimLeft(text, "+-.") + " x")[0])
	switch {
	case text == "":
		return &trouble{what: "there is no value", want: due(kinds)}
	case strings.HasPrefix(bare, "nan") || strings.HasPrefix(bare, "inf"):
		return &trouble{what: quote(text) + " is not a finite number", want: due(kinds)}
	case strings.ContainsAny(text, "½¼¾⅛−×"):
		return &trouble{what: quote(text) + " has a sign that is not read as part of a number", want: "plain characters, such as -2 1/2 in"}
	}
	return &trouble{what: quote(text) + " is not a quantity", want: due(kinds)}
}

// noUnit says what is wrong with what follows the number.
func noUnit(text, name string, kinds []Kind) *trouble {
	if usual, ok := usualNames[name]; ok {
		return &trouble{what: fmt.Sprintf("%s is not how the unit is written in %s", quote(name), quote(text)), want: "write " + usual}
	}
	if name[0] == ',' || name[0] == '.' || name[0] == '/' || (name[0] >= '0' && name[0] <= '9') || name[0] == '-' || name[0] == '_' {
		return &trouble{what: quote(text) + " is not a number with a unit", want: "a decimal point and no other marks, such as 1.5, or a fraction such as 2 1/2"}
	}
	want := due(kinds)
	var known []string
	for _, u := range unitTable {
		if len(kinds) == 0 || slices.Contains(kinds, u.Kind) {
			known = append(known, u.Name)
		}
	}
	if near := nearest(name, known); near != "" {
		want = "did you mean " + near + "? " + want
	}
	return &trouble{what: fmt.Sprintf("%s in %s is not a known unit", quote(name), quote(text)), want: want}
}

// due says what would be right where one of these kinds is due: "a length is due, such as 62 mm (m, cm, mm, in or ft)".
func due(kinds []Kind) string {
	if len(kinds) == 0 {
		return "a number with a unit is due, such as 62 mm"
	}
	var parts []string
	for _, k := range kinds {
		if k == Plain {
			parts = append(parts, "a plain number")
			continue
		}
		parts = append(parts, fmt.Sprintf("%s such as %s (%s)", article(k.String()), kindFacts[k].example, either(unitNames(k))))
	}
	return either(parts) + " is due"
}

// readNumber reads a number at the head of a text: a decimal (with an exponent of at most three digits), a fraction, or a
// whole number and a fraction; rest is what follows it. Digits are bounded, so that no text makes a number of great cost.
func readNumber(text string) (x *big.Rat, rest string, ok bool) {
	const longest = 40
	sign, body := "", text
	if body != "" && (body[0] == '-' || body[0] == '+') {
		sign, body = body[:1], body[1:]
	}
	whole, after := digits(body)
	if x, rest, ok = fraction(whole, after); !ok {
		n := decimalEnd(body)
		if n == 0 || n > longest {
			return nil, text, false
		}
		if x, ok = new(big.Rat).SetString(body[:n]); !ok {
			return nil, text, false
		}
		rest = body[n:]
	}
	if sign == "-" {
		x.Neg(x)
	}
	return x, rest, true
}

// fraction reads what may follow the digits of whole: "/64", or " 1/2" after a whole number.
func fraction(whole, after string) (x *big.Rat, rest string, ok bool) {
	const longest = 12
	if whole == "" || len(whole) > longest {
		return nil, "", false
	}
	above, below := whole, ""
	x = new(big.Rat)
	if strings.HasPrefix(after, " ") {
		x.SetString(whole)
		above, after = digits(strings.TrimLeft(after, " "))
	}
	if above == "" || len(above) > longest || !strings.HasPrefix(after, "/") {
		return nil, "", false
	}
	below, rest = digits(after[1:])
	part, fine := new(big.Rat).SetString(above + "/" + below)
	if below == "" || len(below) > longest || !fine {
		return nil, "", false
	}
	return x.Add(x, part), rest, true
}

func digits(text string) (head, rest string) {
	n := 0
	for n < len(text) && text[n] >= '0' && text[n] <= '9' {
		n++
	}
	return text[:n], text[n:]
}

// decimalEnd gives the length of the decimal number that a text begins with, 0 if none.
func decimalEnd(text string) int {
	whole, rest := digits(text)
	n := len(whole)
	figures := n
	if strings.HasPrefix(rest, ".") {
		part, _ := digits(rest[1:])
		n += 1 + len(part)
		figures += len(part)
	}
	if figures == 0 {
		return 0
	}
	if n < len(text) && (text[n] == 'e' || text[n] == 'E') {
		power := n + 1
		if power < len(text) && (text[power] == '-' || text[power] == '+') {
			power++
		}
		part, _ := digits(text[power:])
		if len(part) > 0 && len(part) <= 3 {
			return power + len(part)
		}
	}
	return n
}

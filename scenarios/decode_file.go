package scenarios

// fileDoc is the whole scenario file.
type fileDoc struct {
	body
	Format       *measure[formatNumber] `yaml:"format" jsonschema:"required" jsonschema_description:"The version of this format: 1."`
	Title        *text                  `yaml:"title" jsonschema_description:"What the scenario is about, in one line."`
	Scale        *measure[scale]        `yaml:"scale" jsonschema_description:"96 is 1:96. Full-size equivalents and filming only; nothing is computed with it."`
	Water        *waterDoc              `yaml:"water" jsonschema_description:"What the vessel floats in. Default: fresh water of 15 C."`
	Hull         *hullDoc               `yaml:"hull" jsonschema:"required" jsonschema_description:"The outer form and its plates."`
	Bulkheads    []bulkheadDoc          `yaml:"bulkheads" jsonschema_description:"Transverse walls, from the stern forward."`
	Compartments []compartmentDoc       `yaml:"compartments" jsonschema_description:"One more than the bulkheads, from the stern forward; boxed ones anywhere in the list. Without bulkheads and compartments there is one space, hold."`
	Weights      []weightDoc            `yaml:"weights" jsonschema_description:"Masses aboard, besides the shell."`
	Openings     []openingDoc           `yaml:"openings" jsonschema_description:"All that water and air pass through: breaches, doors, hatches, vents, pumps."`
	Joints       []jointDoc             `yaml:"joints" jsonschema_description:"Planes at which the hull can come apart, from the stern forward."`
	Run          *runDoc                `yaml:"run" jsonschema_description:"How the flooding is stepped through time."`
	Marks        []markDoc              `yaml:"marks" jsonschema_description:"Points on the hull whose depth below the sea is read off."`
	Ballast      *ballastDoc            `yaml:"ballast" jsonschema_description:"How it is to float, and where ballast may go."`
	Variants     []variantDoc           `yaml:"variants" jsonschema_description:"Further scenarios: this one with values replaced."`
	Spread       []spreadDoc            `yaml:"spread" jsonschema_description:"How far the workshop misses, value by value."`
}

func (f *fileDoc) noun() string { return "a scenario" }

type formatNumber struct{}

func (formatNumber) rule() rule {
	return rule{kinds: []Kind{Plain}, low: 1, high: 1, example: "1", want: "`format: 1`, the only one there is"}
}

type scale struct{}

func (scale) rule() rule {
	return rule{kinds: []Kind{Plain}, high: 10_000, above: true, example: "96", want: "96 for a model of 1:96, more than 0, at most 10000"}
}

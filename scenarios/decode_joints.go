package scenarios

import "github.com/byhead/byhead/compartment"

// jointDoc is an item of `joints:`.
type jointDoc struct {
	body
	Name     *name                `yaml:"name" jsonschema:"required"`
	At       *measure[coordinate] `yaml:"at" jsonschema:"required" jsonschema_description:"Its place along x."`
	Sections *sectionPair         `yaml:"sections" jsonschema:"required" jsonschema_description:"[the piece abaft it, the piece before it]"`
	Keeps    *word[keepers]       `yaml:"keeps" jsonschema_description:"Which piece keeps a bulkhead that stands in its plane. Default: both."`
	Holds    *holdsDoc            `yaml:"holds" jsonschema_description:"What it bears; any one passed and it lets go. Default: no load parts it."`
	Release  *releaseDoc          `yaml:"release" jsonschema_description:"An intended release, any one of several."`
	Hinge    *measure[coordinate] `yaml:"hinge" jsonschema_description:"A height above the keel line: the limits then also count the sea's end pressure about it."`
}

func (j *jointDoc) noun() string { return "a joint" }

type keepers struct{}

func (keepers) words() []string {
	return []string{string(compartment.KeepAfter), string(compartment.KeepForward), string(compartment.KeepBoth)}
}

// holdsDoc is `holds:`, magnitudes.
type holdsDoc struct {
	body
	Hogging *measure[moment] `yaml:"hogging" jsonschema:"anyof_required=hogging"`
	Sagging *measure[moment] `yaml:"sagging" jsonschema:"anyof_required=sagging"`
	Shear   *measure[force]  `yaml:"shear" jsonschema:"anyof_required=shear"`
}

func (h *holdsDoc) noun() string { return "what a joint holds" }

// releaseDoc is `release:`.
type releaseDoc struct {
	body
	Trim *measure[angle]   `yaml:"trim" jsonschema:"anyof_required=trim" jsonschema_description:"10 deg is reached from below, -10 deg from above."`
	Time *measure[instant] `yaml:"time" jsonschema:"anyof_required=time"`
	Wet  *measure[instant] `yaml:"wet" jsonschema:"anyof_required=wet" jsonschema_description:"Its keel-line point has been under the sea surface so long in one go."`
}

func (r *releaseDoc) noun() string { return "a release" }

func (j *jointDoc) spec() compartment.JointSpec {
	spec := compartment.JointSpec{
		Name: j.Name.text(), At: j.At.must(), Sections: j.Sections.pair(),
		Keeps: compartment.KeepKind(j.Keeps.or("")), Hinge: j.Hinge.si(),
	}
	if h := j.Holds; h != nil {
		spec.Holds = compartment.HoldSpec{Hogging: h.Hogging.si(), Sagging: h.Sagging.si(), Shear: h.Shear.si()}
	}
	if r := j.Release; r != nil {
		spec.Release = (&conditionDoc{Time: r.Time, Trim: r.Trim, Wet: r.Wet}).spec()
	}
	return spec
}

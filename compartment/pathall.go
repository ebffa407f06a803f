package compartment

// PathValue is a value of a description, in SI units, by its path.
type PathValue struct {
	Path  string
	Value float64
}

// WithAll is With for several values at once: only the vessel with all of them must be one that can be built, and it is built
// once, whatever their number. The order says nothing unless a path stands twice: the later one counts.
func (v *Vessel) WithAll(values []PathValue) (*Vessel, error) {
	spec := v.Spec
	for _, x := range values {
		if err := spec.set(x.Path, x.Value); err != nil {
			return nil, err
		}
	}
	return build(spec, v.made)
}

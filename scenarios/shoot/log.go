package shoot

import (
	"bytes"
	"fmt"
	"math"
	"strconv"

	"github.com/byhead/byhead/scenarios"
)

// Log is the log to fill in, as CSV. First the float test, without times: the marks, heel and trim at rest, then heel with a weight
// moved across. Then the events in their order, for their times; then what to read at the times of Readings, which may be written
// over. study.Readings and Scenario.Readings each take their own rows of it; rows left as they are count for nothing.
func (p *Plan) Log() []byte {
	var out bytes.Buffer
	unit := p.Scenario.Unit.Name
	row := func(time string, kind scenarios.LogKind, name, unit string) {
		fmt.Fprintf(&out, "%s,%s,%s,,%s,\n", time, kind, name, unit)
	}
	fmt.Fprintln(&out, scenarios.LogHeader)
	for _, m := range p.Vessel.Marks {
		row("", scenarios.LogMark, m.Name, unit)
	}
	row("", scenarios.LogHeel, "", "deg")
	row("", scenarios.LogTrim, "", "deg")
	if name := p.shifted(); name != "" {
		row("", scenarios.LogShift, name, unit)
		row("", scenarios.LogHeel, "", "deg")
	}
	for i := range p.Moments {
		if p.Moments[i].Key != "" {
			row("", scenarios.LogEvent, p.Moments[i].Key, "")
		}
	}
	for _, at := range p.Readings {
		time := strconv.FormatFloat(math.Round(at*10)/10, 'f', -1, 64)
		row(time, scenarios.LogTrim, "", "deg")
		for _, m := range p.Vessel.Marks {
			row(time, scenarios.LogMark, m.Name, unit)
		}
		for i, s := range p.Vessel.Spaces {
			if f := p.watch.filled[i]; f.begins <= at && !(f.ends <= at) {
				row(time, scenarios.LogDepth, s.Name, unit)
			}
		}
	}
	return out.Bytes()
}

// shifted is the weight to incline the hull with: the lightest of those aboard at the start; "": there is none.
func (p *Plan) shifted() (name string) {
	least := math.Inf(1)
	for i := range p.Vessel.Spec.Weights {
		if w := &p.Vessel.Spec.Weights[i]; !w.Later && w.Mass < least {
			name, least = w.Name, w.Mass
		}
	}
	return name
}

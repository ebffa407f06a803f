package page

import (
	"math"
	"slices"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
)

// mostFrames is how many samples a page may hold; where there are more, every second one between events goes, again and again.
const mostFrames = 4000

// The steps to which the page's numbers are rounded: a hundredth of the last digit that is shown, or less.
const (
	timeStep   = 1e-4 // s
	angleStep  = 1e-4 // deg
	lengthStep = 1e-6 // m
	volumeStep = 1e-9 // m³
	turnStep   = 1e-6 // of a component of a unit vector
	gaugeStep  = 0.1  // Pa
	loadStep   = 1e-5 // N·m
	flowStep   = 1e-9 // m³/s
)

// Recorder takes the samples of a run as the page needs them. Give Sample to the run as flood.Settings.Samples.
type Recorder struct {
	vessel  *compartment.Vessel
	frames  []*frame // as they came, until the end
	stride  int      // of the samples that are not of events every so many are kept
	regular int      // how many of those there were
	times   []float64
	columns map[string]*column // by the names of the trace's columns, and a few more

	key      string          // of the joints that have parted
	known    map[string]bool // bodies, spaces and openings that occurred, as "kind name"
	bodies   []*compartment.Body
	spaces   []spaceShape
	openings []openingShape
}

// openingShape is an opening, or what a parting made of one.
type openingShape struct {
	name string
	*compartment.OpeningSpec
	piece int  // that it is drawn with
	shut  bool // when it first occurs
	joint int  // that opens it by parting, −1: none
}

// spaceShape is a space, or a part of one, that occurred.
type spaceShape struct {
	*compartment.Space
	first, last int // the pieces that it may lie in
}

// frame is a sample's values by column.
type frame struct {
	time   float64
	number int // among the samples that are not of events; −1: it is of one
	values map[string]float64
}

// NewRecorder is for a run of a vessel.
func NewRecorder(v *compartment.Vessel) *Recorder {
	return &Recorder{vessel: v, stride: 1, columns: map[string]*column{}, known: map[string]bool{}, key: "new"}
}

// Sample takes a sample.
func (r *Recorder) Sample(s *flood.Sample) {
	r.layOut(s)
	f := r.frameOf(s)
	if f.number = -1; !s.Event {
		f.number = r.regular
		r.regular++
	}
	if n := len(r.frames); n > 0 && r.passedOver(r.frames[n-1]) {
		r.frames = r.frames[:n-1] // it was kept because it might have been the last
	}
	r.frames = append(r.frames, f)
	if len(r.frames) > mostFrames && r.regular > len(r.frames)/2 {
		r.stride *= 2
		r.frames = slices.DeleteFunc(r.frames, r.passedOver)
	}
}

// passedOver tells whether a frame is one of those that are left out for want of room.
func (r *Recorder) passedOver(f *frame) bool { return f.number > 0 && f.number%r.stride != 0 }

// end lays the frames out in columns.
func (r *Recorder) end() {
	for _, f := range r.frames {
		r.put(f)
	}
	r.frames = nil
}

// layOut learns of the bodies, spaces and openings that a parting has made.
func (r *Recorder) layOut(s *flood.Sample) {
	parted, key := make([]bool, len(s.Joints)), ""
	for i := range s.Joints {
		if parted[i] = !s.Joints[i].Present; parted[i] {
			key += s.Joints[i].Name + " "
		}
	}
	if key == r.key {
		return
	}
	r.key = key
	p := r.vessel.Parted(parted)
	for _, b := range p.Bodies {
		if r.firstSeen("body " + b.Name) {
			r.bodies = append(r.bodies, b)
		}
	}
	for _, x := range p.Spaces {
		if r.firstSeen("space " + x.Name) {
			first, last := r.reach(x.Index, p.Bodies[x.Body])
			r.spaces = append(r.spaces, spaceShape{x.Space, first, last})
		}
	}
	for _, x := range p.Passages {
		if x.Listed != nil && r.firstSeen("opening "+x.Name) {
			r.openings = append(r.openings, openingShape{x.Name, x.Listed, r.pieceOf(p, x), len(x.Listed.Opens) > 0 || x.Joint >= 0, x.Joint})
		}
	}
}

func (r *Recorder) firstSeen(key string) bool {
	seen := r.known[key]
	r.known[key] = true
	return !seen
}

// pieceOf is the piece that an opening is drawn with: one of its body's that holds its place.
func (r *Recorder) pieceOf(p *compartment.Parted, x compartment.PartedPassage) int {
	b := p.Bodies[x.Body]
	for k := b.First; k < b.Last; k++ {
		if x.Listed.At.X <= r.vessel.Spec.Joints[k].At {
			return k
		}
	}
	return b.Last
}

// reach is the pieces of a body that a space lies in.
func (r *Recorder) reach(index int, b *compartment.Body) (first, last int) {
	first, last = b.Last, b.First
	for k := b.First; k <= b.Last; k++ {
		for _, s := range r.vessel.Pieces[k].Spaces {
			if s.Index == index {
				first, last = min(first, k), max(last, k)
			}
		}
	}
	return first, last
}

// frameOf is what the page needs of a sample.
func (r *Recorder) frameOf(s *flood.Sample) *frame {
	f := &frame{time: s.Time, values: map[string]float64{}}
	put := func(name string, x float64) { f.values[name] = x }
	for i := range s.Bodies {
		b := &s.Bodies[i]
		if !b.Present {
			continue
		}
		put(b.Name+".up_x", b.Pose.Up.X)
		put(b.Name+".up_y", b.Pose.Up.Y)
		put(b.Name+".up_z", b.Pose.Up.Z)
		put(b.Name+".sea_m", b.Pose.Sea)
		put(b.Name+".trim_deg", b.Trim*(180/math.Pi))
		put(b.Name+".heel_deg", b.Heel*(180/math.Pi))
		put(b.Name+".draft_fore_m", b.DraftFore)
		put(b.Name+".draft_aft_m", b.DraftAft)
		put(b.Name+".freeboard_m", b.Freeboard)
	}
	for i := range s.Spaces {
		x := &s.Spaces[i]
		put(x.Name+".water_m3", x.Water)
		put(x.Name+".level_m", x.Level)
		if r.airtight(x.Name) {
			put(x.Name+".air_pa", x.Air)
		}
	}
	for i := range s.Joints {
		if j := &s.Joints[i]; j.Present && !math.IsNaN(j.Bending) { // not on the floor
			put(j.Name+".bending_nm", j.Bending)
			put(j.Name+".end_moment_nm", j.EndMoment)
		}
	}
	for i := range s.Passages {
		if p := &s.Passages[i]; r.known["opening "+p.Name] {
			put(p.Name+".water_m3_per_s", p.Water)
		}
	}
	return f
}

// put makes a frame.
func (r *Recorder) put(f *frame) {
	n := len(r.times)
	r.times = append(r.times, f.time)
	for name, x := range f.values {
		c := r.columns[name]
		if c == nil {
			c = &column{step: stepOf(name), start: n}
			r.columns[name] = c
		}
		for c.start+len(c.whole) < n { // it was away in between
			c.whole = append(c.whole, absent)
		}
		c.add(x)
	}
}

// stepOf is what a column is rounded to, by its unit.
func stepOf(name string) float64 {
	for _, u := range []struct {
		end  string
		step float64
	}{
		{"_m3", volumeStep}, {"_m3_per_s", flowStep}, {"_deg", angleStep}, {"_pa", gaugeStep}, {"_nm", loadStep}, {"_m", lengthStep},
	} {
		if len(name) >= len(u.end) && name[len(name)-len(u.end):] == u.end {
			return u.step
		}
	}
	return turnStep
}

// airtight tells whether a space keeps an air of its own.
func (r *Recorder) airtight(name string) bool {
	for i := range r.spaces {
		if r.spaces[i].Name == name {
			return r.spaces[i].Airtight
		}
	}
	return false
}

// values are those of a column at all frames, NaN where there are none.
func (r *Recorder) values(name string) []float64 {
	c := r.columns[name]
	if c == nil {
		return nil
	}
	out := make([]float64, len(r.times))
	for i := range out {
		out[i] = c.at(i)
	}
	return out
}

package flood

import (
	"bytes"
	"encoding/gob"
	"fmt"
	"slices"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
)

// saved is a run's memory apart from the vessel and the settings.
type saved struct {
	Time, PastTime                 float64
	Water, Head, Speed, Rate       []float64
	Excess, Press, Blow, Gust      []float64
	PastPress, PastBlow            []float64
	Airless, AirLost               []bool
	LostAt, Gasped                 []float64
	Bell, Wants                    []bool
	Vain, AirTo                    []int
	AirBook                        [4]float64
	Moments                        moments
	Vents                          []vent
	Borne                          []JointLoads
	Pose, Turning, Hastening       []compartment.Pose
	Footing                        []footing
	Soft                           []float64
	PastWater, PastHead, PastSpeed []float64
	PastPose                       []compartment.Pose
	Older                          savedGuess
	HasPast, FailedStart           bool
	PastLength, Bent, Length       float64
	Limit                          Limit
	ByHead, Brimmed, Open, On      []bool
	Before                         []float64
	Level                          []float64 // where each space's water was last found, from which it is sought next
	Due                            []float64
	Spent                          []bool
	Told                           []Event
	Ended                          Ended
	GaveUp                         *Failure
	Warnings                       []Warning
	Sections                       []savedSection
	Edge                           []Margin
	Menisci                        []savedMeniscus
	Overtopped, Filled, DeckUnder  []bool
	UpSide, GM                     []float64
	Edges, Startled, LookedAfter   int
	Wary                           int
	LookedAt                       float64
	Blame                          []int
	Gain, GainBefore               []float64
	NextSample                     float64
	Start, In, Crossed, Lost       float64
	StartPose                      compartment.Pose
	Parted, Gone                   []bool
	Separations                    []Separation
	Asked                          []float64 // by joint
	Earlier                        []EarlierBody
	FlowEvaluations                int
	Stats                          Stats
	HullQueries, SpaceQueries      []int
}

// savedGuess is what a first guess takes of a state.
type savedGuess struct {
	Water, Head, Speed, Press, Blow []float64
	Pose                            []compartment.Pose
}

type savedSection struct {
	Began, Foundered, Capsized float64
	Touched                    bool
	Vertical                   bool
	Steepest, SteepestAt       float64
	WorstHeel                  float64
	Deepest, DeepestAt         float64
	Deck, GM                   Margin
}

type savedMeniscus struct {
	Holds, Head, At, First, Last, Broke float64
	Wetted, Kept, Held                  bool
}

// Save writes down where the run is, between two steps. Resume goes on from there to the same bits.
func (r *Run) Save() ([]byte, error) {
	s := saved{
		Time: r.now.time, Water: r.now.water, Head: r.now.head, Speed: r.now.speed, Rate: r.now.rate,
		Excess: r.now.excess, Press: r.now.press, Blow: r.now.blow, Gust: r.now.gust,
		PastPress: r.past.press, PastBlow: r.past.blow, AirLost: r.airLost,
		AirBook: [4]float64{r.airBook.start, r.airBook.in, r.airBook.crossed, r.airBook.lost},
		Moments: r.moments, Vents: r.vents, Borne: r.jointLoads(),
		Pose: r.now.pose, Turning: r.now.turning, Hastening: r.now.hastening,
		PastTime: r.past.time, PastWater: r.past.water, PastHead: r.past.head, PastSpeed: r.past.speed, PastPose: r.past.pose,
		Older:   savedGuess{r.older.water, r.older.head, r.older.speed, r.older.press, r.older.blow, r.older.pose},
		HasPast: r.hasPast, FailedStart: r.failedStart,
		PastLength: r.pastLength, Bent: r.bent, Length: r.length, Limit: r.limit,
		Told: r.told, Ended: r.ended, GaveUp: r.gaveUp, Warnings: r.warnings, Edge: r.edge,
		Overtopped: r.overtopped, Filled: r.filled, DeckUnder: r.deckUnder, UpSide: r.upSide, GM: r.gm, Edges: r.edges, Startled: r.startled, Wary: r.wary,
		LookedAfter: r.creepWatch.attempts, LookedAt: r.creepWatch.time, Blame: r.blame,
		Gain: r.gain, GainBefore: r.gainBefore, NextSample: r.nextSample,
		Start: r.book.start, In: r.book.in, Crossed: r.book.crossed, Lost: r.book.lost,
		StartPose: r.startPose, FlowEvaluations: r.flowEvaluations, Stats: r.stats,
	}
	for i := range r.spaces {
		sp := &r.spaces[i]
		s.ByHead, s.Brimmed = append(s.ByHead, sp.byHead), append(s.Brimmed, sp.brimmed)
		s.Airless, s.LostAt = append(s.Airless, sp.airless), append(s.LostAt, sp.lostAt)
		s.Bell = append(s.Bell, sp.bell)
		s.Vain, s.Gasped, s.AirTo = append(s.Vain, sp.vain), append(s.Gasped, sp.gasped), append(s.AirTo, sp.airTo)
		s.Level = append(s.Level, r.bodies[sp.body].floater.Surfaces()[sp.local].Level)
	}
	s.Parted, s.Separations, s.Earlier = r.parted, r.separations, r.earlier
	for i := range r.joints {
		s.Asked = append(s.Asked, r.joints[i].asked)
	}
	for k := range r.bodies {
		s.Gone = append(s.Gone, r.bodies[k].gone)
		if r.free() {
			s.Footing, s.Soft = append(s.Footing, r.bodies[k].mover.begun), append(s.Soft, r.bodies[k].soft)
		}
	}
	for j := range r.ports {
		m := &r.menisci[j]
		s.Open, s.Wants = append(s.Open, r.ports[j].open), append(s.Wants, r.ports[j].wants)
		s.Menisci = append(s.Menisci, savedMeniscus{m.holds, m.head, m.at, m.first, m.last, m.broke, m.wetted, m.kept, r.ports[j].held})
	}
	for i := range r.watch {
		s.On, s.Before = append(s.On, r.watch[i].on), append(s.Before, r.watch[i].before)
	}
	for i := range r.triggers {
		s.Due, s.Spent = append(s.Due, r.triggers[i].due), append(s.Spent, r.triggers[i].spent)
	}
	for i := range r.sections {
		c := &r.sections[i]
		s.Sections = append(s.Sections, savedSection{
			c.began, c.foundered, c.capsized, c.touched, c.vertical, c.steepest, c.steepestAt, c.worstHeel, c.deepest, c.deepestAt, c.deck, c.gm,
		})
		f := r.bodies[i].floater
		s.HullQueries, s.SpaceQueries = append(s.HullQueries, f.HullQueries), append(s.SpaceQueries, f.SpaceQueries)
	}
	var out bytes.Buffer
	err := gob.NewEncoder(&out).Encode(&s)
	return out.Bytes(), err
}

// Resume goes on with a run that was saved, of the same vessel with the same settings, to the same bits as if it had not
// been interrupted. It fails where the data are not of such a run.
func Resume(v *compartment.Vessel, settings Settings, data []byte) (*Run, error) {
	var s saved
	if err := gob.NewDecoder(bytes.NewReader(data)).Decode(&s); err != nil {
		return nil, fmt.Errorf("flood: this is no saved run: %w", err)
	}
	samples := settings.Samples
	settings.Samples = nil // Start's own samples have been handed out before
	r, err := Start(v, settings)
	if err != nil {
		return nil, err
	}
	r.set.Samples = samples
	if slices.Contains(s.Parted, true) && len(s.Parted) == len(r.parted) {
		r.parted = s.Parted
		r.layOut(v.Parted(r.parted))
		r.relaid = false
	}
	if len(s.Water) != len(r.spaces) || len(s.Rate) != len(r.ports) || len(s.Pose) != len(r.bodies) ||
		len(s.On) != len(r.watch) || len(s.Due) != len(r.triggers) || len(s.Edge) != len(r.edge) {
		return nil, fmt.Errorf("flood: the saved run is of another vessel: %d spaces and %d openings, not %d and %d",
			len(s.Water), len(s.Rate), len(r.spaces), len(r.ports))
	}
	r.restore(&s)
	return r, nil
}

// restore puts a saved memory into a fresh run.
func (r *Run) restore(s *saved) {
	r.restoreStates(s)
	r.restoreStory(s)
	for i := range r.joints {
		r.joints[i].asked, r.joints[i].borne = s.Asked[i], s.Borne[i]
	}
	for k := range r.bodies {
		r.bodies[k].gone = s.Gone[k]
		if r.free() {
			r.bodies[k].mover.begun, r.bodies[k].soft = s.Footing[k], s.Soft[k]
		}
	}
	r.restoreSpaces(s)
	r.restorePorts(s)
	for k := range r.bodies { // after all that asked for something
		r.bodies[k].floater.HullQueries, r.bodies[k].floater.SpaceQueries = s.HullQueries[k], s.SpaceQueries[k]
	}
	for i := range r.watch {
		r.watch[i].on, r.watch[i].before = s.On[i], s.Before[i]
	}
	for i := range r.triggers {
		r.triggers[i].due, r.triggers[i].spent = s.Due[i], s.Spent[i]
	}
}

// restoreStates puts the states back that the next step goes on from, and what its length and its first guess hang on.
func (r *Run) restoreStates(s *saved) {
	r.now.time, r.past.time = s.Time, s.PastTime
	copy(r.now.water, s.Water)
	copy(r.now.head, s.Head)
	copy(r.now.speed, s.Speed)
	copy(r.now.rate, s.Rate)
	copy(r.now.excess, s.Excess)
	copy(r.now.press, s.Press)
	copy(r.now.blow, s.Blow)
	copy(r.now.gust, s.Gust)
	copy(r.past.press, s.PastPress)
	copy(r.past.blow, s.PastBlow)
	copy(r.now.pose, s.Pose)
	copy(r.now.turning, s.Turning)
	copy(r.now.hastening, s.Hastening)
	copy(r.past.water, s.PastWater)
	copy(r.past.head, s.PastHead)
	copy(r.past.speed, s.PastSpeed)
	copy(r.past.pose, s.PastPose)
	copy(r.older.water, s.Older.Water)
	copy(r.older.head, s.Older.Head)
	copy(r.older.speed, s.Older.Speed)
	copy(r.older.press, s.Older.Press)
	copy(r.older.blow, s.Older.Blow)
	copy(r.older.pose, s.Older.Pose)
	r.hasPast, r.failedStart = s.HasPast, s.FailedStart
	r.pastLength, r.bent, r.length, r.limit = s.PastLength, s.Bent, s.Length, s.Limit
	r.edges, r.startled, r.wary = s.Edges, s.Startled, s.Wary
	r.creepWatch.attempts, r.creepWatch.time = s.LookedAfter, s.LookedAt
	copy(r.blame, s.Blame)
}

// restoreStory puts back what has happened, and the accounts.
func (r *Run) restoreStory(s *saved) {
	r.told, r.ended, r.gaveUp, r.warnings, r.edge = s.Told, s.Ended, s.GaveUp, s.Warnings, s.Edge
	r.overtopped, r.filled, r.deckUnder, r.airLost = s.Overtopped, s.Filled, s.DeckUnder, s.AirLost
	r.upSide, r.gm = s.UpSide, s.GM
	r.gain, r.gainBefore, r.nextSample, r.startPose = s.Gain, s.GainBefore, s.NextSample, s.StartPose
	r.book = ledger{start: s.Start, in: s.In, crossed: s.Crossed, lost: s.Lost}
	r.airBook = ledger{start: s.AirBook[0], in: s.AirBook[1], crossed: s.AirBook[2], lost: s.AirBook[3]}
	r.flowEvaluations, r.stats = s.FlowEvaluations, s.Stats
	r.separations, r.earlier = s.Separations, s.Earlier
	r.moments, r.vents = s.Moments, s.Vents
	for i, c := range s.Sections {
		r.sections[i] = section{
			c.Began, c.Foundered, c.Capsized, c.Touched, c.Vertical, c.Steepest, c.SteepestAt, c.WorstHeel, c.Deepest, c.DeepestAt, c.Deck, c.GM,
		}
	}
}

// restoreSpaces puts back what spaces are to a step, and the surfaces that the next one begins with.
func (r *Run) restoreSpaces(s *saved) {
	for i := range r.spaces {
		sp := &r.spaces[i]
		sp.byHead, sp.brimmed, sp.airless = s.ByHead[i], s.Brimmed[i], s.Airless[i]
		sp.lostAt, sp.vain, sp.gasped, sp.airTo = s.LostAt[i], s.Vain[i], s.Gasped[i], s.AirTo[i]
		if sp.bell = s.Bell[i]; sp.bell {
			sp.open = false
			r.bodies[sp.body].floater.Bell(sp.local, r.bellAir(i, &r.now))
		}
	}
	r.settleWaters(&r.now)
	copy(r.levels, s.Level)
	r.returnLevels()
}

// restorePorts puts back which openings are open, and which are wet.
func (r *Run) restorePorts(s *saved) {
	for j := range r.ports {
		r.ports[j].wants = s.Wants[j]
	}
	r.rewire()
	for j := range r.ports {
		m := s.Menisci[j]
		r.ports[j].open, r.ports[j].held = s.Open[j], m.Held
		r.menisci[j] = meniscus{m.Holds, m.Head, m.At, m.First, m.Last, m.Broke, m.Wetted, m.Kept}
	}
}

// Change puts another vessel in the place of the present one between two steps: the same but for values, such as
// Vessel.With gives. The waters stay where they are, as far as there is room for them; the flows are found anew. It fails
// where the vessels differ in their spaces or openings.
func (r *Run) Change(v *compartment.Vessel) error {
	if len(v.Spaces) != len(r.spaces) || len(v.Passages) != len(r.ports) {
		return fmt.Errorf("flood: the other vessel has %d spaces and %d openings, this one %d and %d",
			len(v.Spaces), len(v.Passages), len(r.spaces), len(r.ports))
	}
	for i, s := range v.Spaces {
		if r.now.water[i] > s.Capacity()*(1+1e-12) {
			return fmt.Errorf("flood: %s holds %g m³ of water; in the other vessel there is room for %g", s.Name, r.now.water[i], s.Capacity())
		}
	}
	if slices.Contains(r.parted, true) {
		return fmt.Errorf("flood: a joint has parted, and another vessel would be whole")
	}
	for i := range r.ports {
		p := &r.ports[i]
		p.Passage, p.centre, p.seen.X = v.Passages[i], v.Passages[i].Figure.Centre(), -2
		if p.vesselsLaw(v.Air.Density); p.own != nil {
			p.ownLaw(p.own)
		}
	}
	for i, s := range v.Spaces {
		if s.Airtight != r.spaces[i].Airtight {
			return fmt.Errorf("flood: %s is airtight in one of the vessels only", s.Name)
		}
	}
	r.vessel, r.weight = v, v.Water.Density*hydro.Gravity
	r.changeMenisci()
	b := &r.bodies[0]
	b.Body = v.Whole
	b.floater, b.mover = compartment.NewFloater(v.Whole, v.Water.Density, true), r.newMover(v.Whole)
	r.makeBearings()
	for i := range r.spaces {
		sp := &r.spaces[i]
		if more := v.Whole.Spaces[i].Capacity() - sp.capacity; sp.holdsAir() {
			r.now.excess[i] -= more // the air stays, its room does not
		}
		sp.Space, sp.capacity = v.Whole.Spaces[i], v.Whole.Spaces[i].Capacity()
	}
	r.restart()
	r.survey(&r.now)
	if r.breakAtOnce() {
		r.restart()
		r.survey(&r.now)
	}
	r.mark()
	return nil
}

package flood

import "github.com/byhead/byhead/compartment"

// Fate is how a section, or the whole, ends.
type Fate string

// The fates.
const (
	Capsizes  Fate = "capsizes"
	Founders  Fate = "founders"
	Grounds   Fate = "grounds"
	Floats    Fate = "floats"
	Undecided Fate = "undecided"
	NoFate    Fate = "" // the run gave up
)

// Ended is why a run stopped.
type Ended string

// Why runs stop.
const (
	EndedSettled   Ended = "settled"
	EndedFoundered Ended = "foundered"
	EndedUntil     Ended = "until"
	EndedGaveUp    Ended = "gave-up"
	Running        Ended = "" // it has not ended
)

// Result is what a run came to. Times in s, lengths in m, angles in rad; NaN where a number does not apply.
type Result struct {
	Duration     float64
	Ended        Ended
	Fate         Fate
	Separations  []Separation // in order of time
	Earlier      []EarlierBody
	Sections     []SectionResult
	Events       []Event
	Margins      []Margin
	Warnings     []Warning
	HeldBack     []HeldBack    // where menisci kept water back, or would have, had they been dry
	WaterBalance float64       // m³: in less out less present, plus the start
	WaterCrossed float64       // m³ that went through openings, all added up
	AirBalance   float64       // kg, of the air of airtight spaces: in less out less present, plus the start
	AirCrossed   float64       // kg that went through openings of such spaces, all added up
	Curve        *BendingCurve // along the hull, when it bent most while it was whole; nil: nothing bends, it still runs, Settings.NoCurve
	Joints       []JointLoads  // what each bore, in the order of the file
	GaveUp       *Failure
	Stats        Stats
}

// BendingCurve is what a hull bears along its length at a moment of the run.
type BendingCurve struct {
	Time float64 // s
	compartment.LoadCurve
}

// SectionResult is the fate of one body.
type SectionResult struct {
	Name         string
	Fate         Fate
	Foundered    float64 // s; NaN: it did not
	AfloatAlone  float64 // s from when this body came into being to its foundering; NaN
	Steepest     float64 // rad, largest angle between the keel line and the horizontal
	SteepestAt   float64
	WorstHeel    float64 // rad, signed; NaN: never less steep than 60°
	PastVertical bool
	Tends        Tendency // with Undecided only
	OnlySwings   bool     // with Undecided: nothing flows any more, and it has only not come to rest
}

// Tendency is where an undecided section was going.
type Tendency string

// The tendencies.
const (
	Sinking   Tendency = "sinking"
	Levelling Tendency = "levelling"
)

// MarginKind is what a margin is measured at.
type MarginKind string

// The kinds of margin.
const (
	MarginEdge     MarginKind = "edge"      // height of a bulkhead's edge over the higher water beside it; negative: water over it
	MarginDeck     MarginKind = "deck-edge" // least freeboard of a section
	MarginGM       MarginKind = "gm"        // least transverse metacentric height of a section while it is less steep than 60°
	MarginMeniscus MarginKind = "meniscus"  // by how much the head at an opening or edge stood over what a dry one holds back; negative: it would have held
)

// Margin is how close something came to turning out otherwise.
type Margin struct {
	Name    string
	Kind    MarginKind
	Closest float64 // m
	Time    float64 // s, when that was
}

// HeldBack is an opening or edge that, dry, held water back which would have passed a wet one; in a run with wet menisci, one that
// would have, had it been dry.
type HeldBack struct {
	Name  string
	Edge  bool    // of a bulkhead
	Holds float64 // m of head that it holds back
	Met   float64 // m: the greatest head that it met
	Broke float64 // s, when it let water through; NaN: it never did, or the menisci are wet
}

// WarningKind is what a user is to be told.
type WarningKind string

// The kinds of warning.
const (
	DryHoleHolds WarningKind = "dry-hole-holds" // Value: head in m that the meniscus would have held back
	DryEdgeHolds WarningKind = "dry-edge-holds"
	NoVolume     WarningKind = "no-volume"      // Value: kg of weights without a density
	KeelUp       WarningKind = "keel-up"        // it floats upside down from the start
	Chatters     WarningKind = "chatters"       // Value: how often an opening or space switched
	PartsAtStart WarningKind = "parts-at-start" // a joint let go before any water moved
	NeverParts   WarningKind = "never-parts"    // a joint that holds or releases is whole at the end; Value: the share of what it holds that was asked at most, 0 where it has no limits
	RollsOver    WarningKind = "rolls-over"     // a section turned over soon after it came free; Value: how long after, s
	VentUnder    WarningKind = "vent-under"     // a vent went under while its space still had air to let out; Value: m³ of that at one atmosphere
	TooShallow   WarningKind = "too-shallow"    // Value: depth that a section reached down to, m, more than the pool has
)

// Warning names a thing and a number; its words belong to scenarios.
type Warning struct {
	Kind  WarningKind
	Name  string
	Value float64
	Time  float64
}

// Failure is where and why a run gave up: data, not an error.
type Failure struct {
	Time  float64
	Cause FailureCause
	Name  string // the space, passage or body it was about
}

// FailureCause is why a run gave up.
type FailureCause string

// The causes.
const (
	StepTooSmall FailureCause = "step-too-small"
	NotFinite    FailureCause = "not-finite"
	TooManySteps FailureCause = "too-many-steps"
	Creeping     FailureCause = "creeping" // in ten thousand attempts of steps it hardly got on
	NoRest       FailureCause = "no-rest"
)

// Stats counts the work of a run.
type Stats struct {
	Steps, Rejected int // accepted and refused steps
	Iterations      int // Newton iterations of stages
	Factorisations  int
	HullQueries     int            // plane queries of the outer forms
	SpaceQueries    int            // plane queries of the spaces
	PoseSolves      int            // equilibria sought apart from the stages' own iterations
	FlowEvaluations int            // evaluations of one opening's law
	Limits          [numLimits]int // accepted steps by what limited them
}

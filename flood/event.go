package flood

// EventKind is what happened. The words are those of the results.
type EventKind string

// The kinds of event.
const (
	Overtopped    EventKind = "overtopped"      // a bulkhead
	Filled        EventKind = "filled"          // a compartment
	AirLost       EventKind = "air-lost"        // a compartment
	Opened        EventKind = "opened"          // an opening that opens later
	Shut          EventKind = "shut"            // an opening
	BrokeThrough  EventKind = "broke-through"   // an opening or a bulkhead
	Parted        EventKind = "parted"          // a joint
	DeckEdgeUnder EventKind = "deck-edge-under" // a section
	Capsized      EventKind = "capsized"        // a section
	PastVertical  EventKind = "past-vertical"   // a section
	Foundered     EventKind = "foundered"       // a section
	TouchedBottom EventKind = "touched-bottom"  // a section
	SettledDown   EventKind = "settled"         // a section
	LostStability EventKind = "lost-stability"  // a section whose rest ceased to be a minimum; not among the contract's events
)

// Event is something that happened to a named thing.
type Event struct {
	Time    float64
	Kind    EventKind
	Name    string // of the bulkhead, compartment, opening, joint or section
	Section string // the body it happened to or in; "" where none applies
}

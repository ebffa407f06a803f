package scenarios

import "math"

// ReleaseEntry is what a mechanical release at a joint has to carry before and to let go at: see ReleaseDesign. Forces act at the end of
// the lever.
type ReleaseEntry struct {
	Joint         string         `json:"joint"`
	Parted        *float64       `json:"parted_s"`
	Cause         *string        `json:"cause"`
	Trim          *float64       `json:"trim_deg"`
	Loads         []ReleaseLoad  `json:"loads"`
	Lever         *float64       `json:"lever_m"`
	Set           *float64       `json:"set_nm"` // the bending at the parting, hogging positive
	PassedBefore  *float64       `json:"passed_before_s"`
	LoadFactor    float64        `json:"load_factor"`    // between what a latch set by load carries and what it lets go at
	CommandFactor float64        `json:"command_factor"` // between what a release on command carries and the greatest load
	Devices       []DeviceEntry  `json:"devices"`
	SetLight      []LightEntry   `json:"set_light"`
	Wetting       []WettingEntry `json:"wetting"`
	Cautions      []string       `json:"cautions"`
}

// ReleaseLoad is a kind of load at the start, at most and at the parting, magnitudes in the unit.
type ReleaseLoad struct {
	Kind      string   `json:"kind"`
	Unit      string   `json:"unit"`
	Start     *float64 `json:"start"`
	Greatest  *float64 `json:"greatest"`
	Time      *float64 `json:"time_s"`
	AtParting *float64 `json:"at_parting"`
}

// DeviceEntry is a kind of release.
type DeviceEntry struct {
	Kind      string   `json:"kind"`
	By        string   `json:"by"` // load, command
	Carries   *float64 `json:"carries_n"`
	LetsGo    *float64 `json:"lets_go_n"`
	Draws     *float64 `json:"draws_n"`
	BenchMass *float64 `json:"bench_mass_kg"`
	BenchArm  *float64 `json:"bench_arm_m"`
}

// LightEntry is when a latch parts that is set to a share of the load.
type LightEntry struct {
	Share *float64 `json:"share"`
	Time  *float64 `json:"time_s"`
	Trim  *float64 `json:"trim_deg"`
}

// WettingEntry is the height over the keel line at which a soluble link is wetted so long before the parting.
type WettingEntry struct {
	Seconds *float64 `json:"seconds"`
	Height  *float64 `json:"height_m"`
}

// NewReleaseEntries puts release designs into a document.
func NewReleaseEntries(designs []ReleaseDesign) []ReleaseEntry {
	entries := []ReleaseEntry{}
	for i := range designs {
		entries = append(entries, newReleaseEntry(&designs[i]))
	}
	return entries
}

func newReleaseEntry(d *ReleaseDesign) ReleaseEntry {
	e := ReleaseEntry{
		Joint: d.Name, Parted: Number(d.Parted), Cause: orNull(d.Cause), Trim: Degrees(d.Trim), Lever: Number(d.Lever),
		PassedBefore: Number(d.Passed), LoadFactor: loadFactor, CommandFactor: releaseFactor,
		Loads: []ReleaseLoad{}, Devices: []DeviceEntry{}, SetLight: []LightEntry{}, Wetting: []WettingEntry{}, Cautions: ReleaseCautions(),
	}
	if d.Cause != "" {
		e.Set = Number(d.Last.Bending)
	}
	for _, row := range releaseRows(d) {
		l := ReleaseLoad{Kind: row.kind, Unit: "N", Start: Number(row.start), Greatest: Number(row.most.Value), Time: Number(row.most.Time)}
		if row.moment {
			l.Unit = "N.m"
		}
		if d.Cause != "" {
			l.AtParting = Number(row.parting)
		}
		e.Loads = append(e.Loads, l)
	}
	for _, v := range d.Devices() {
		e.Devices = append(e.Devices, newDeviceEntry(&v, d.Cause != ""))
	}
	for _, l := range d.Light {
		e.SetLight = append(e.SetLight, LightEntry{Number(l.Share), Number(l.Time), Degrees(l.Trim)})
	}
	for _, h := range d.Wetting {
		if !math.IsNaN(h.Height) {
			e.Wetting = append(e.Wetting, WettingEntry{Number(h.Seconds), Number(h.Height)})
		}
	}
	return e
}

func newDeviceEntry(v *Device, parts bool) DeviceEntry {
	e := DeviceEntry{Kind: v.Kind, By: "load", Carries: Number(v.Carries)}
	if v.Command {
		e.By = "command"
	}
	if parts {
		e.LetsGo = Number(v.LetsGo)
		if v.Draws > 0 {
			e.Draws = Number(v.Draws)
		}
	}
	if v.Bench > 0 {
		e.BenchMass, e.BenchArm = Number(v.Bench), Number(v.BenchArm)
	}
	return e
}

package main

import (
	"math"
	"strconv"
	"strings"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
	"github.com/byhead/byhead/scenarios/study"
)

// resultLabel says in words what a result is; "" for one that a table for people leaves out.
func resultLabel(w scenarios.Words, path string) string {
	words := strings.Split(path, ".")
	last := words[len(words)-1]
	switch {
	case path == "fate":
		return "fate"
	case path == "duration_s":
		return "the run took"
	case len(words) == 1:
		return ""
	case words[0] == "events":
		event := flood.Event{Kind: flood.EventKind(words[1]), Name: strings.Join(words[2:len(words)-1], ".")}
		return map[string]string{"time_s": w.Event(event), "trim_deg": "  trim then", "heel_deg": "  heel then"}[last]
	case words[0] == "margins":
		return marginLabel(words)
	case words[0] == "gave_up":
		return map[string]string{"time_s": "gave up at", "cause": "because"}[last]
	case words[0] == "separation":
		return map[string]string{"joint": "parts first at", "time_s": "  when", "cause": "  because of", "trim_deg": "  trim then", "bending_nm": "  bending then"}[last]
	case words[0] == "separations" || words[0] == "earlier":
		return "" // told as events
	}
	return bodyLabel(words[0], last)
}

func marginLabel(words []string) string {
	if len(words) != 4 || words[3] != "closest_m" {
		return ""
	}
	switch flood.MarginKind(words[2]) {
	case flood.MarginEdge:
		return "top of " + words[1] + " over the water"
	case flood.MarginDeck:
		return "least freeboard of " + words[1]
	case flood.MarginGM:
		return "smallest GM of " + words[1]
	}
	return ""
}

func bodyLabel(body, member string) string {
	label := map[string]string{"fate": "", "foundered_s": "goes under after", "afloat_alone_s": "afloat alone for", "steepest_deg": "steepest angle", "worst_heel_deg": "worst heel",
		"past_vertical": "past the vertical", "tends": "was"}[member]
	switch {
	case body == "hull" && (member == "fate" || member == "afloat_alone_s"):
		return "" // that of the whole
	case label == "" && member != "fate":
		return ""
	}
	return strings.TrimSpace(body + " " + label)
}

// resultText writes a result for people.
func resultText(w scenarios.Words, path string, r *study.Result) string {
	switch {
	case r == nil:
		return "–"
	case r.Text == "true":
		return "yes"
	case r.Text == "false":
		return "no"
	case r.IsText():
		return r.Text
	}
	return resultNumber(w, path, r.Number)
}

// resultNumber writes a number by what it measures.
func resultNumber(w scenarios.Words, path string, x float64) string {
	if math.IsNaN(x) {
		return "–"
	}
	switch study.ResultKind(path) {
	case scenarios.Time:
		return w.Time(x)
	case scenarios.Length:
		return w.Length(x)
	case scenarios.Volume:
		return w.Volume(x)
	case scenarios.Mass:
		return w.Mass(x)
	case scenarios.Angle:
		return w.Angle(x * (math.Pi / 180))
	case scenarios.Moment:
		return strconv.FormatFloat(x, 'g', 4, 64) + " N.m"
	case scenarios.Force:
		return strconv.FormatFloat(x, 'g', 4, 64) + " N"
	}
	return strconv.FormatFloat(x, 'g', 5, 64)
}

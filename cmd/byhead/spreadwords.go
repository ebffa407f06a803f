package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
	"github.com/byhead/byhead/scenarios/study"
)

// printSpread prints what the runs come to, in one go.
func (a *app) printSpread(tally *study.Tally, w scenarios.Words, title, matters string, asJSON bool) error {
	s, err := tally.Summary(matters)
	if err != nil {
		return usage("--matters: %s", err)
	}
	var out bytes.Buffer
	if asJSON {
		err = scenarios.WriteJSON(&out, study.NewSpreadDocument(s))
	} else {
		writeSpread(&out, w, title, s)
	}
	if err == nil {
		_, err = a.stdout.Write(out.Bytes())
	}
	return err
}

func writeSpread(out *bytes.Buffer, w scenarios.Words, title string, s *study.Summary) {
	if title != "" {
		fmt.Fprintln(out, title)
	}
	fmt.Fprintf(out, "%d of %d runs, seed %d", s.Runs, s.Of, s.Seed)
	if s.GaveUp > 0 {
		fmt.Fprintf(out, "; %d gave up and count in no share", s.GaveUp)
	}
	if s.Redrawn > 0 {
		fmt.Fprintf(out, "; %d values were out of range and drawn again", s.Redrawn)
	}
	if s.Runs == 0 {
		fmt.Fprintln(out, "; none of them falls to this shard")
		return
	}
	fmt.Fprintln(out, "\n\nHow likely")
	t := newTable("", "share", "19 times of 20 within")
	for _, fate := range study.Fates {
		if p := s.Fates[fate]; p.Share > 0 || fate == flood.Floats || fate == flood.Founders {
			t.add(string(fate), percent(p.Share), percent(p.Low95)+" to "+percent(p.High95))
		}
	}
	t.write(out)
	writeQuantiles(out, w, s)
	writeMatters(out, s)
}

func percent(share float64) string {
	if math.IsNaN(share) {
		return "–"
	}
	return fmt.Sprintf("%.1f %%", 100*share)
}

// writeQuantiles lists those results that a table for people has.
func writeQuantiles(out *bytes.Buffer, w scenarios.Words, s *study.Summary) {
	t := newTable("", "1 in 20 below", "half below", "1 in 20 above", "")
	for _, q := range s.Quantiles {
		label := resultLabel(w, q.Result)
		if label == "" || !told(s, q) {
			continue
		}
		in := ""
		if q.Count < s.Runs {
			in = fmt.Sprintf("of the %d runs that have it", q.Count)
		}
		t.add(label, resultNumber(w, q.Result, q.P05), resultNumber(w, q.Result, q.P50), resultNumber(w, q.Result, q.P95), in)
	}
	if t.rows > 0 {
		fmt.Fprintln(out, "\nHow it scatters")
		t.write(out)
	}
}

// told tells whether a table for people has these quantiles: not those of a few runs, nor what another line says, nor the margins
// where most hulls are lost, of which how deep they came to lie says nothing. The document has all.
func told(s *study.Summary, q study.Quantiles) bool {
	const few = 5
	switch {
	case q.Count < few && q.Count < s.Runs:
		return false
	case strings.HasPrefix(q.Result, "margins."):
		return s.Fates[flood.Floats].Share >= 0.5
	case strings.HasPrefix(q.Result, "events."):
		return strings.HasSuffix(q.Result, ".time_s") && !strings.HasPrefix(q.Result, "events.foundered.") && !strings.HasPrefix(q.Result, "events.settled.")
	}
	return true
}

func writeMatters(out *bytes.Buffer, s *study.Summary) {
	const width = 30
	fmt.Fprintf(out, "\nWhat the scatter of %s comes of\n", s.About)
	t := newTable()
	for _, m := range s.Matters {
		t.add(m.Path, percent(m.Share), strings.Repeat("#", int(math.Round(width*min(1, m.Share)))))
	}
	t.add("several together, and chance", percent(s.Joint), "")
	t.write(out)
}

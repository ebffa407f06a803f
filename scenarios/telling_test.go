package scenarios_test

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// What is told in pieces is what Write writes, word for word and in its order, and nothing is left out.
func TestTellingIsTheStory(t *testing.T) {
	for _, name := range []string{"packet", "parting", "bell"} {
		folder, data, err := scenarios.OpenDemo(name)
		if err != nil {
			t.Fatal(err)
		}
		s, err := scenarios.Read(folder, name, data)
		if err != nil {
			t.Fatal(err)
		}
		v, err := s.Build()
		if err != nil {
			t.Fatal(err)
		}
		story := scenarios.NewStory(s, v)
		set := s.Run.Settings()
		set.Samples = story.Sample
		r, err := flood.Start(v, set)
		if err != nil {
			t.Fatal(err)
		}
		result, err := r.Finish(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		var whole bytes.Buffer
		if err := story.Write(&whole, result); err != nil {
			t.Fatal(err)
		}
		told := story.Tell(result)
		words := []string{s.Title, told.Lead, "time"}
		if s.Scale > 1 {
			words = append(words, "full size")
		}
		words = append(words, "trim heel freeboard what happens")
		for _, m := range told.Moments {
			words = append(words, m.Time, m.FullTime, m.Trim, m.Heel, m.Freeboard, m.What)
		}
		for _, p := range told.Parts {
			words = append(append(words, p.Title), p.Lines...)
		}
		flat := func(text string) string { return strings.Join(strings.Fields(text), " ") }
		if got, want := flat(strings.Join(words, " ")), flat(whole.String()); got != want {
			t.Errorf("%s: told\n%s\nwritten\n%s", name, got, want)
		}
	}
}

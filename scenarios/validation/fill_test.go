package validation

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
)

// fillPage puts texts between the marks of a page, `<!-- name -->` and `<!-- end -->`, and compares it or writes it.
func fillPage(t *testing.T, file string, parts map[string]string) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	page := string(data)
	for name, text := range parts {
		mark := "<!-- " + name + " -->\n"
		before, rest, ok := strings.Cut(page, mark)
		_, after, ended := strings.Cut(rest, "<!-- end -->")
		if !ok || !ended || strings.Contains(after, mark) {
			t.Fatalf("%s needs one %s and an end behind it", file, strings.TrimSpace(mark))
		}
		page = before + mark + text + "<!-- end -->" + after
	}
	if n := strings.Count(page, "<!-- end -->"); n != len(parts) {
		t.Errorf("%s has %d marked parts, not %d", file, n, len(parts))
	}
	samePage(t, file, page)
}

// table is a table of Markdown.
type table struct{ strings.Builder }

func (b *table) head(names ...string) {
	b.row(names...)
	b.row(strings.Split(strings.Repeat("---,", len(names)-1)+"---", ",")...)
}

func (b *table) row(cells ...string) { fmt.Fprintf(b, "| %s |\n", strings.Join(cells, " | ")) }

// figure writes a number with so many decimals.
func figure(x float64, decimals int) string { return positiveZero(fmt.Sprintf("%.*f", decimals, x)) }

// percent is how far one number is over another.
func percent(x, than float64) string { return fmt.Sprintf("%+.1f %%", 100*(x/than-1)) }

// within fails unless a number is as near another as a share of that.
func within(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got/want-1) <= share) {
		t.Errorf("%s: %.4g, measured %.4g: %s, allowed %g %%", what, got, want, percent(got, want), 100*share)
	}
}

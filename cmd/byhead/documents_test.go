package main

import (
	"encoding/hex"
	"encoding/json"
	"testing"

	"github.com/byhead/byhead/scenarios"
)

// wantHead sees to it that a document tells what made it, and of what input. decodeOne asks it of check, float, ballast, sink,
// compare, size and fit.
func wantHead(t *testing.T, text string) (digest string) {
	t.Helper()
	var head struct {
		Format  int
		Version string
		Digest  string `json:"input_digest"`
	}
	if err := json.Unmarshal([]byte(text), &head); err != nil {
		t.Fatal(err)
	}
	if sum, err := hex.DecodeString(head.Digest); head.Format != 1 || head.Version != scenarios.Version || err != nil || len(sum) != 32 {
		t.Errorf("the document's head is %+v, want format 1, version %s and a SHA-256", head, scenarios.Version)
	}
	return head.Digest
}

func TestDocumentsTellVersionAndInput(t *testing.T) {
	files := map[string]string{"wide.yaml": wide}
	own := wantHead(t, byhead(t, files, "", "check", "wide.yaml", "--json").stdout)
	dir := t.TempDir()
	write(t, dir, "wide.yaml", wide)
	spread := byheadIn(t, dir, "", "spread", "wide.yaml", "--runs", "2", "--records", "r.ndjson", "--json").stdout
	for name, text := range map[string]string{
		"spread": spread,
		"gather": byheadIn(t, dir, "", "gather", "r.ndjson", "--json").stdout,
		"shoot":  byhead(t, files, "", "shoot", "wide.yaml", "--json").stdout,
	} {
		if got := wantHead(t, text); got != own {
			t.Errorf("%s tells of the input %s, check of %s", name, got, own)
		}
	}
	var compared struct {
		Digests []string `json:"column_digests"`
	}
	decodeOne(t, byhead(t, files, "", "compare", "wide.yaml", "--json").stdout, &compared)
	if d := compared.Digests; len(d) != 2 || d[0] != own || d[1] == own {
		t.Errorf("the columns' digests are %v, the file's is %s: the variant must have one of its own", d, own)
	}
}

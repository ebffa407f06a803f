package scenarios

import (
	"os"
	"testing"
)

func TestExample(t *testing.T) {
	data, err := os.ReadFile("testdata/example.yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, err := Read(os.DirFS("testdata"), "testdata/example.yaml", data)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%+v", s)
	v, err := s.Build()
	if err != nil {
		t.Log(err)
	}
	_ = v
}

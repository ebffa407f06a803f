package scenarios_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Every name that a public package exports stands in the table "What is exported, and why" of DEVELOPERS.md, and nothing else does:
// an export is a promise, and is made on purpose. Methods and members go with their type, and so do the constants of a type.
func TestExportedNamesAreListed(t *testing.T) {
	text, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, table, _ := strings.Cut(string(text), "## What is exported, and why\n")
	table, _, _ = strings.Cut(table, "\n## ")
	listed, used := map[string][]string{}, map[string]bool{}
	for _, row := range regexp.MustCompile("(?m)^\\| `([a-z/]+)` \\| ([^|]*) \\|").FindAllStringSubmatch(table, -1) {
		for _, name := range regexp.MustCompile("`([A-Za-z*]+)`").FindAllStringSubmatch(row[2], -1) {
			listed[row[1]] = append(listed[row[1]], name[1])
		}
	}
	for _, folder := range []string{"hydro", "hydro/solid", "compartment", "compartment/plan", "flood", "scenarios", "scenarios/study", "scenarios/shoot"} {
		for _, name := range exported(t, "../"+folder) {
			found := false
			for _, pattern := range listed[folder] {
				if ok, _ := path.Match(pattern, name); ok {
					found, used[folder+" "+pattern] = true, true
				}
			}
			if !found {
				t.Errorf("%s exports %s: unexport it, or list it in DEVELOPERS.md with the reason", folder, name)
			}
		}
	}
	for folder, patterns := range listed {
		for _, pattern := range patterns {
			if !used[folder+" "+pattern] {
				t.Errorf("DEVELOPERS.md lists %s of %s, which does not export it", pattern, folder)
			}
		}
	}
}

// exported are the names that a folder's package exports at its top level, but for the constants of a type of its own.
func exported(t *testing.T, folder string) (names []string) {
	t.Helper()
	files, err := filepath.Glob(folder + "/*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("no Go files in %s: %v", folder, err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			names = append(names, declared(d)...)
		}
	}
	return names
}

func declared(d ast.Decl) (names []string) {
	add := func(id *ast.Ident) {
		if id.IsExported() {
			names = append(names, id.Name)
		}
	}
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Recv == nil {
			add(d.Name)
		}
	case *ast.GenDecl:
		typed := false // iota goes on with the type of the line before
		for _, s := range d.Specs {
			switch s := s.(type) {
			case *ast.TypeSpec:
				add(s.Name)
			case *ast.ValueSpec:
				if s.Type != nil || len(s.Values) > 0 {
					typed = s.Type != nil
				}
				for _, id := range s.Names {
					if d.Tok != token.CONST || !typed {
						add(id)
					}
				}
			}
		}
	}
	return names
}

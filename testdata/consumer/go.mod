// A program of somebody else's that uses the engine as docs/library.md says. It is a module of its own, so that it sees what a
// stranger sees: exported names only. A test in scenarios builds and runs it. After a change of dependencies: go mod tidy here.
module example.com/consumer

go 1.26.0

require (
	github.com/byhead/byhead v0.0.0
	gonum.org/v1/gonum v0.17.0
)

require gopkg.in/yaml.v3 v3.0.1 // indirect

replace github.com/byhead/byhead => ../..

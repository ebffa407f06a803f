package scenarios

import (
	"embed"
	"fmt"
	"io/fs"
)

// DemoPrefix marks a demo in place of a file's path, as in demo:packet.
const DemoPrefix = "demo:"

//go:embed all:demos
var demoFiles embed.FS

// demoScenario is the name of a demo's scenario file in its folder.
const demoScenario = "scenario.yaml"

// Demo is a scenario that ships with the program.
type Demo struct{ Name, Title string }

// Demos lists the demos by name, in alphabetical order.
func Demos() []Demo {
	entries, err := demoFiles.ReadDir("demos")
	if err != nil {
		panic("scenarios: the demos are not in the program: " + err.Error())
	}
	var list []Demo
	for _, e := range entries {
		folder, data, err := OpenDemo(e.Name())
		if err != nil {
			continue // not a demo: a file beside their folders
		}
		demo := Demo{Name: e.Name()}
		if s, err := Read(folder, DemoPrefix+e.Name(), data); err == nil { // a test reads every one
			demo.Title = s.Title
		}
		list = append(list, demo)
	}
	return list
}

// DemoNames lists the names of the demos without reading them: for completion and suggestions.
func DemoNames() []string {
	var names []string
	entries, _ := demoFiles.ReadDir("demos")
	for _, e := range entries {
		if e.IsDir() {
			names = append(names, e.Name())
		}
	}
	return names
}

// OpenDemo gives the folder of a demo and the text of its scenario. An unknown name is an error that gives the nearest.
func OpenDemo(name string) (folder fs.FS, scenario []byte, err error) {
	for _, known := range DemoNames() {
		if known != name {
			continue
		}
		if folder, err = fs.Sub(demoFiles, "demos/"+name); err != nil {
			return nil, nil, err
		}
		scenario, err = fs.ReadFile(folder, demoScenario)
		return folder, scenario, err
	}
	return nil, nil, fmt.Errorf("there is no demo %s; %sthe demos are %s", quote(name), meant(name, DemoNames()), both(DemoNames()))
}

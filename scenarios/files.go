package scenarios

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"path/filepath"
	"strings"
	"sync"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro/solid"
)

const mostFileBytes = 64 << 20 // of a table or a mesh

// filePath is the path of a file that the scenario names. Its key is where faults stand that have no place in the file.
type filePath struct {
	Path string
	key  *node
}

func (f *filePath) decode(d *decoder, n, key *node) {
	f.key = key
	const want = "a path below the scenario's folder, with forward slashes, such as hull.csv"
	switch {
	case n.kind != scalarNode:
		d.fault(n, n.named()+" stands where the name of a file is due", want)
	case n.text == "" || strings.ContainsAny(n.text, "\\\x00") || strings.HasPrefix(n.text, "/") || filepath.VolumeName(n.text) != "":
		d.fault(key, quote(n.text)+" is not a path below the scenario's folder", want)
	case !fs.ValidPath(path.Clean(n.text)) || path.Clean(n.text) == ".":
		d.fault(key, quote(n.text)+" leads out of the scenario's folder", want)
	default:
		f.Path = n.text
		return
	}
}

func (f *filePath) shape() shape { return shape{pattern: `^[^/\\][^\\]*$`, example: "hull.csv"} }

// folder reads the files that a scenario names, each once, from the scenario's own folder and below. A scenario and all that are
// made of it share one, and take turns at it.
type folder struct {
	sync.Mutex
	fsys  fs.FS  // nil: the scenario came from standard input
	name  string // of the scenario, as typed
	files []*file
	notes []string
}

// file is one that was read.
type file struct {
	path      string
	data      []byte
	tables    map[string][]compartment.Station // by unit
	places    map[string][]solid.Place
	triangles map[string]vecs
}

// note keeps what the user should know, once.
func (f *folder) note(text string) {
	for _, n := range f.notes {
		if n == text {
			return
		}
	}
	f.notes = append(f.notes, text)
}

// joined is how a file that the scenario names is called in messages.
func (f *folder) joined(named string) string {
	if demo, ok := strings.CutPrefix(f.name, DemoPrefix); ok {
		return DemoPrefix + path.Join(demo, named)
	}
	return filepath.Join(filepath.Dir(f.name), filepath.FromSlash(named))
}

// read gives a file's bytes; nil where it cannot be read, which is told at the key that names it.
func (f *folder) read(d *decoder, p *filePath) *file {
	if p == nil || p.Path == "" {
		return nil // told when it was decoded
	}
	for _, known := range f.files {
		if known.path == p.Path {
			return known
		}
	}
	if f.fsys == nil {
		d.fault(p.key, "a scenario that is read from standard input can name no files", "the scenario as a file in the folder of "+quote(p.Path)+", or the table inline")
		return nil
	}
	data, err := f.load(path.Clean(p.Path))
	var large tooLarge
	switch {
	case errors.As(err, &large):
		f.foreign(d, p, solid.Faults{{What: large.Error(), Want: fmt.Sprintf("at most %d MB", mostFileBytes>>20)}})
		return nil
	case errors.Is(err, fs.ErrNotExist):
		d.fault(p.key, "there is no file "+quote(p.Path)+" in the scenario's folder", "the name of one that is there"+f.similar(p.Path))
		return nil
	case err != nil:
		d.fault(p.key, fmt.Sprintf("the file %s cannot be read (%s)", quote(p.Path), reason(err)), "a readable file in the scenario's folder or below")
		return nil
	}
	read := &file{path: p.Path, data: data, tables: map[string][]compartment.Station{}, places: map[string][]solid.Place{}, triangles: map[string]vecs{}}
	f.files = append(f.files, read)
	return read
}

type tooLarge int64

func (t tooLarge) Error() string {
	return fmt.Sprintf("the file has more than %d bytes", mostFileBytes)
}

func (f *folder) load(name string) ([]byte, error) {
	file, err := f.fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("it is not a regular file")
	}
	data, err := io.ReadAll(io.LimitReader(file, mostFileBytes+1))
	if err == nil && len(data) > mostFileBytes {
		err = tooLarge(len(data))
	}
	return data, err
}

// reason is an error without the path that it repeats.
func reason(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	return strings.ReplaceAll(err.Error(), "\n", " ")
}

// similar names a file of the folder whose name is near a wrong one.
func (f *folder) similar(name string) string {
	entries, err := fs.ReadDir(f.fsys, path.Dir(path.Clean(name)))
	if err != nil {
		return ""
	}
	var known []string
	for _, e := range entries {
		known = append(known, e.Name())
	}
	if near := nearest(path.Base(name), known); near != "" {
		return ", perhaps " + quote(path.Join(path.Dir(name), near))
	}
	return ""
}

// offsets reads a table of offsets; nil where it cannot.
func (f *folder) offsets(d *decoder, p *filePath, unit Unit) []compartment.Station {
	file := f.read(d, p)
	if file == nil || unit.Name == "" {
		return nil
	}
	if known, ok := file.tables[unit.Name]; ok {
		return known
	}
	read, places, err := solid.ReadOffsets(bytes.NewReader(file.data), unit.SI(1))
	if err != nil {
		f.foreign(d, p, err)
		return nil
	}
	stations := make([]compartment.Station, len(read))
	for i, s := range read {
		stations[i].X = s.X
		for _, q := range s.Points {
			stations[i].Points = append(stations[i].Points, compartment.StationPoint{Z: q.Z, Y: q.Y})
		}
	}
	file.tables[unit.Name], file.places[unit.Name] = stations, places
	return stations
}

// foreign turns a reader's faults into ours: at their line and column in the file, or at the key that names the file.
func (f *folder) foreign(d *decoder, p *filePath, err error) {
	var faults solid.Faults
	if !errors.As(err, &faults) {
		faults = solid.Faults{{What: reason(err), Want: "a file of the described form"}}
	}
	d.spoiled = append(d.spoiled, p.key)
	for _, fault := range faults {
		line, column := fault.Line, max(fault.Column, 1)
		if line == 0 {
			line, column = p.key.line, p.key.column
		}
		d.faults = append(d.faults, Fault{f.joined(p.Path), line, column, fault.What, fault.Want})
	}
}

package scenarios

import (
	"bytes"
	"fmt"

	"github.com/byhead/byhead/hydro/solid"
)

// mesh reads a surface; nil where it cannot. What the reader mended is noted for the user.
func (f *folder) mesh(d *decoder, p *filePath, unit Unit) vecs {
	file := f.read(d, p)
	if file == nil || unit.Name == "" {
		return nil
	}
	if known, ok := file.triangles[unit.Name]; ok {
		return known
	}
	read, err := solid.ReadSTL(bytes.NewReader(file.data), int64(len(file.data)), unit.SI(1))
	if err != nil {
		f.foreign(d, p, err)
		return nil
	}
	triangles := make(vecs, len(read.Triangles))
	for i, t := range read.Triangles {
		triangles[i] = t
	}
	f.mended(p.Path, read)
	file.triangles[unit.Name] = triangles
	return triangles
}

// mended tells what the reader of a mesh did on its own.
func (f *folder) mended(path string, mesh *solid.Mesh) {
	name := f.joined(path)
	for _, c := range mesh.Caps {
		at := fmt.Sprintf("%.1f, %.1f, %.1f mm", 1000*c.Centre.X, 1000*c.Centre.Y, 1000*c.Centre.Z)
		where := name
		if c.Line > 0 {
			where = fmt.Sprintf("%s:%d", name, c.Line)
		}
		f.note(fmt.Sprintf("%s: an open loop of %d corners about %s was closed by a plane of %.4g cm²", where, c.Corners, at, 1e4*c.Area))
	}
	if mesh.Turned > 0 {
		f.note(fmt.Sprintf("%s: %d of %d bodies were inside out and were turned", name, mesh.Turned, mesh.Bodies))
	}
	if mesh.Voids > 0 {
		f.note(fmt.Sprintf("%s: %d of %d bodies lie inside another and were taken as hollow", name, mesh.Voids, mesh.Bodies))
	}
}

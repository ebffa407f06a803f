package sheet

import (
	"bytes"
	"fmt"
	"html"
	"strconv"

	"gonum.org/v1/gonum/spatial/r2"
)

// border is the room about a drawing, mm.
const border = 4.0

// SVG is a drawing for cutters: its width and height in mm, one unit of its coordinates a mm, and nothing in it but paths of
// straight lines, without any transform, fill or font: in three groups, what is to cut, to mark, and the bars to measure by.
func (d *Drawing) SVG() []byte {
	all := Drawing{Paths: append([]Path(nil), d.Paths...)}
	for i := range d.Texts {
		all.Paths = append(all.Paths, written(&d.Texts[i])...)
	}
	paths, texts := bars(r2.Sub(d.Bounds().Min, r2.Vec{X: border, Y: border}))
	for i := range texts {
		for _, p := range written(&texts[i]) {
			p.Pen = Bar
			paths = append(paths, p)
		}
	}
	all.Paths = append(all.Paths, paths...)
	box := all.Bounds()
	width, height := box.Max.X-box.Min.X+2*border, box.Max.Y-box.Min.Y+2*border
	var out bytes.Buffer
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %[1]s %[2]s" fill="none" stroke-width="0.1">`+"\n",
		number(width), number(height))
	fmt.Fprintf(&out, "<title>%s</title>\n", html.EscapeString(d.Title))
	groups := []struct {
		pen         Pen
		name, paint string
	}{{Cut, "cut", "#c00000"}, {Mark, "mark", "#0000c0"}, {Bar, "bars", "#008040"}}
	for _, g := range groups {
		fmt.Fprintf(&out, `<g id="%s" stroke="%s">`+"\n", g.name, g.paint)
		for i := range all.Paths {
			if p := &all.Paths[i]; p.Pen == g.pen {
				writePath(&out, p, r2.Vec{X: box.Min.X - border, Y: box.Max.Y + border})
			}
		}
		out.WriteString("</g>\n")
	}
	out.WriteString("</svg>\n")
	return out.Bytes()
}

// writePath writes a path as seen from the sheet's upper left corner, where SVG counts down.
func writePath(out *bytes.Buffer, p *Path, corner r2.Vec) {
	out.WriteString(`<path d="`)
	for i, q := range p.Points {
		command := "L"
		if i == 0 {
			command = "M"
		}
		fmt.Fprintf(out, "%s%s %s", command, number(q.X-corner.X), number(corner.Y-q.Y))
	}
	if p.Closed {
		out.WriteByte('Z')
	}
	out.WriteString(`"/>` + "\n")
}

// number writes mm to a ten-thousandth.
func number(x float64) string {
	text := strconv.FormatFloat(x, 'f', 4, 64)
	for text[len(text)-1] == '0' {
		text = text[:len(text)-1]
	}
	if text[len(text)-1] == '.' {
		text = text[:len(text)-1]
	}
	if text == "-0" {
		return "0"
	}
	return text
}

package main

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"

	"github.com/byhead/byhead/cmd/byhead/sheet"
	"github.com/byhead/byhead/scenarios/shoot"
)

//go:embed shoot.html
var shootHTML string

var shootTemplate = template.Must(template.New("shoot").Funcs(template.FuncMap{
	"share": func(shares []float64, i int) float64 {
		total := 0.0
		for _, s := range shares {
			total += s
		}
		return 100 * shares[i] / total
	},
}).Parse(shootHTML))

// htmlSheet is the sheet as one page of HTML that needs nothing else, printed in letters of a size, mm.
func htmlSheet(page *shoot.Page, paper sheet.Paper, letters float64) ([]byte, error) {
	var out bytes.Buffer
	size := "A4"
	if paper == sheet.Letter {
		size = "letter"
	}
	err := shootTemplate.Execute(&out, map[string]any{"Page": page, "Paper": template.CSS(size), "Letters": template.CSS(fmt.Sprintf("%.2fmm", 0.97*letters))})
	return out.Bytes(), err
}

package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
)

var (
	rootRef   = regexp.MustCompile(`/Root (\d+) 0 R`)
	infoRef   = regexp.MustCompile(`/Info (\d+) 0 R`)
	sizeOf    = regexp.MustCompile(`/Size (\d+)`)
	startXref = regexp.MustCompile(`startxref\n(\d+)\n`)
)

// withoutScaling asks a viewer not to scale a document when it prints it, by an incremental update (ISO 32000-1, 7.5.6): the
// catalogue once more with the viewer's preference /PrintScaling /None (12.2), which has to be said of version 1.6.
func withoutScaling(pdf []byte) ([]byte, error) {
	find := func(what *regexp.Regexp) []byte {
		if m := what.FindSubmatch(pdf); m != nil {
			return m[1]
		}
		return nil
	}
	root, info, size, before := find(rootRef), find(infoRef), find(sizeOf), find(startXref)
	_, catalog, found := bytes.Cut(pdf, fmt.Appendf(nil, "\n%s 0 obj\n<<\n", root))
	catalog, _, ended := bytes.Cut(catalog, []byte("\n>>\nendobj"))
	if root == nil || info == nil || size == nil || before == nil || !found || !ended {
		return nil, errors.New("the PDF has no catalogue where one is expected")
	}
	out := bytes.NewBuffer(bytes.Clone(pdf))
	at := out.Len()
	fmt.Fprintf(out, "%s 0 obj\n<<\n%s\n/Version /1.6\n/ViewerPreferences << /PrintScaling /None >>\n>>\nendobj\n", root, catalog)
	xref := out.Len()
	fmt.Fprintf(out, "xref\n%s 1\n%010d 00000 n \ntrailer\n<<\n/Size %s\n/Root %[1]s 0 R\n/Info %[4]s 0 R\n/Prev %[5]s\n>>\nstartxref\n%[6]d\n%%%%EOF\n",
		root, at, size, info, before, xref)
	return out.Bytes(), nil
}

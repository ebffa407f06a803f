// Package sheet puts drawings for the workshop on paper and on cutters, at their true size: SVG in millimetres, of plain paths
// only, and PDF pages that A4 and Letter both take, with bars to measure what the printer made of them.
package sheet

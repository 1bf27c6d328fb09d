// Package picture is a flat picture of areas, lines and text in millimetres that is written as SVG or PNG.
//
// The origin is the upper left corner, x to the right and y down. Shapes are painted in order. The same
// picture gives the same bytes.
package picture

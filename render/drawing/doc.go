// Package drawing is the one model of everything that is drawn: station drawings, title blocks, curves,
// bars and maps. A Drawing holds shapes; writers (SVG, PDF, DXF) play it through a Pen.
//
// Conventions. A sheet is measured in millimetres of paper from its lower left corner, y up. A view holds
// shapes in millimetres of the real world about its own zero, which lies at View.Origin on the sheet. One
// sheet has one scale: Scale real millimetres are drawn as one millimetre of paper. Text heights, arrow
// sizes, offsets of dimensions and spacings of hatches are millimetres of paper everywhere. Angles are in
// degrees, counter-clockwise from +x.
package drawing

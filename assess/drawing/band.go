// Package drawing turns what is known of a part into a picture that screen and
// print show alike.
//
// A verdict is told by its word first, then by the letter and the pattern of a
// band, and by colour last.
package drawing

import "fettlebook/assess/term"

// Band is how a verdict is marked along an edge or an outline.
type Band struct {
	// Letter stands for the verdict where there is no room for its word.
	Letter string
	// Ink is 0xRRGGBB on a light ground, Bright the same on a dark one; both have
	// the hues of the palette of Okabe and Ito, or are grey, darkened so that they
	// stand out from paper and stay apart for every kind of colour-blind eye. The
	// ink of sound is the quiet one: nothing to see here.
	Ink, Bright uint32
	// Dash is the pattern: strokes and gaps in turn, as multiples of the band's
	// width. Empty means solid.
	Dash []float64
	// Width is the band's width as a multiple of the ordinary one.
	Width float64
}

var bands = map[term.Verdict]Band{
	term.Sound:      {Letter: "S", Ink: 0x6B6B6B, Bright: 0xB4B4B4, Width: 0.6},
	term.Usable:     {Letter: "U", Ink: 0x0072B2, Bright: 0x56B4E9, Dash: []float64{5, 1.5}, Width: 1},
	term.Repairable: {Letter: "R", Ink: 0xB98000, Bright: 0xE69F00, Dash: []float64{5, 1.5, 1, 1.5}, Width: 1},
	term.Condemned:  {Letter: "C", Ink: 0xB84300, Bright: 0xF28E4B, Width: 1.6},
	term.Undecided:  {Letter: "?", Ink: 0x8F3F80, Bright: 0xCC79A7, Dash: []float64{1, 1.5}, Width: 1},
}

// BandOf returns how a verdict is marked.
func BandOf(v term.Verdict) Band { return bands[v] }

package drawing

import "fettlebook/assess/term"

// Ink is the part that a colour plays in a drawing.
type Ink uint8

// The inks of a drawing.
const (
	// Ground is what the drawing lies on.
	Ground Ink = iota
	// Metal fills a part, Chosen the surface that is chosen.
	Metal
	Chosen
	// Outline is a visible edge; Fine is a thin line, a hatching, a leader; Axis
	// is a centre line; Faint is a mate at its place.
	Outline
	Fine
	Axis
	Faint
	// Words and Quiet are texts; OnAccent is a text on Accent.
	Words
	Quiet
	OnAccent
	// Accent marks what is chosen or pointed at.
	Accent
	// The inks of the verdicts.
	SoundInk
	UsableInk
	RepairableInk
	CondemnedInk
	UndecidedInk
	inks
)

// Palette gives each ink its colour, 0xRRGGBB.
type Palette [inks]uint32

// Colour returns that of an ink, that of the words for an ink that is none.
func (p *Palette) Colour(ink Ink) uint32 {
	if ink >= inks {
		return p[Words]
	}
	return p[ink]
}

// Paper is the palette for print and for a light screen, Night for a dark one.
var (
	Paper = withBands(Palette{
		Ground: 0xFFFFFF, Metal: 0xF4F4F2, Chosen: 0xD6E8F5,
		Outline: 0x1F1F1F, Fine: 0x5A5A5A, Axis: 0x8A8A8A, Faint: 0xB9B9B9,
		Words: 0x1A1A1A, Quiet: 0x5E5E5E, OnAccent: 0xFFFFFF, Accent: 0x0064A0,
	}, func(b Band) uint32 { return b.Ink })
	Night = withBands(Palette{
		Ground: 0x1E1E1E, Metal: 0x2B2C2E, Chosen: 0x17425F,
		Outline: 0xE4E4E4, Fine: 0xA0A0A0, Axis: 0x808080, Faint: 0x5C5C5C,
		Words: 0xF0F0F0, Quiet: 0xA8A8A8, OnAccent: 0x10202C, Accent: 0x6CB8E8,
	}, func(b Band) uint32 { return b.Bright })
)

func withBands(p Palette, of func(Band) uint32) Palette {
	for v, ink := range verdictInks {
		p[ink] = of(bands[v])
	}
	return p
}

var verdictInks = map[term.Verdict]Ink{
	term.Sound: SoundInk, term.Usable: UsableInk, term.Repairable: RepairableInk,
	term.Condemned: CondemnedInk, term.Undecided: UndecidedInk,
}

// InkOf returns the ink of a verdict.
func InkOf(v term.Verdict) Ink {
	if ink, ok := verdictInks[v]; ok {
		return ink
	}
	return UndecidedInk
}

package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/drawing"
	"fettlebook/assess/term"
)

// Shade says whether the window is light or dark.
type Shade string

// The shades. AsSystem follows the desktop.
const (
	AsSystem Shade = ""
	LightUI  Shade = "light"
	DarkUI   Shade = "dark"
)

// Names of colours beyond Fyne's own. A verdict's begins with colorVerdict and
// ends with the verdict's word.
const (
	colorVerdict fyne.ThemeColorName = "verdict-"
	// colorQuiet is for words of the second rank, still of enough contrast to read.
	colorQuiet fyne.ThemeColorName = "quiet"
	// colorRaised is the ground of bars and tiles, a little off the page.
	colorRaised fyne.ThemeColorName = "raised"
	// colorChosen is the ground of the one that is chosen.
	colorChosen fyne.ThemeColorName = "chosen"
	// colorMat is the ground that photos lie on: neutral, so that metal keeps its
	// colour to the eye.
	colorMat fyne.ThemeColorName = "mat"
	// colorChip lies over the photo, below words about it.
	colorChip fyne.ThemeColorName = "chip"
	// colorWarn and colorWarnEdge are those of a bar that asks for attention.
	colorWarn     fyne.ThemeColorName = "warn"
	colorWarnEdge fyne.ThemeColorName = "warn-edge"
	// colorInform and colorInformEdge are those of a bar that only tells.
	colorInform     fyne.ThemeColorName = "inform"
	colorInformEdge fyne.ThemeColorName = "inform-edge"
)

func verdictColor(v term.Verdict) fyne.ThemeColorName {
	return colorVerdict + fyne.ThemeColorName(v.String())
}

// look is the program's theme: Fyne's own shapes and typeface, calmer colours,
// one accent (the blue of Okabe and Ito), targets of 36 and more.
type look struct {
	fyne.Theme
	shade Shade
}

func newLook(s Shade) *look { return &look{Theme: theme.DefaultTheme(), shade: s} }

func (l *look) variant(system fyne.ThemeVariant) fyne.ThemeVariant {
	switch l.shade {
	case LightUI:
		return theme.VariantLight
	case DarkUI:
		return theme.VariantDark
	}
	return system
}

// Color gives the program's own colours, and Fyne's where it has none.
func (l *look) Color(name fyne.ThemeColorName, system fyne.ThemeVariant) color.Color {
	variant := l.variant(system)
	inks := lightInks
	if variant == theme.VariantDark {
		inks = darkInks
	}
	if ink, ok := inks[name]; ok {
		return nrgba(ink)
	}
	for _, v := range term.Verdicts {
		if name != verdictColor(v) {
			continue
		}
		band := drawing.BandOf(v)
		if variant == theme.VariantDark {
			return nrgba(band.Bright<<8 | 0xff)
		}
		return nrgba(band.Ink<<8 | 0xff)
	}
	return l.Theme.Color(name, variant)
}

// Size makes room for greasy hands and for text that is read at arm's length.
func (l *look) Size(name fyne.ThemeSizeName) float32 {
	switch name {
	case theme.SizeNameCaptionText:
		return 12
	case theme.SizeNameSubHeadingText:
		return 18
	case theme.SizeNameHeadingText:
		return 22
	case theme.SizeNameInnerPadding:
		return 9
	case theme.SizeNameScrollBarSmall:
		return 5
	}
	return l.Theme.Size(name)
}

func nrgba(ink uint32) color.NRGBA {
	return color.NRGBA{R: uint8(ink >> 24), G: uint8(ink >> 16), B: uint8(ink >> 8), A: uint8(ink)}
}

// The inks as 0xRRGGBBAA. Words reach a contrast of 4.5 on their ground.
var lightInks = map[fyne.ThemeColorName]uint32{
	theme.ColorNameBackground:          0xFCFCFBFF,
	theme.ColorNameForeground:          0x161616FF,
	theme.ColorNamePrimary:             0x0072B2FF,
	theme.ColorNameForegroundOnPrimary: 0xFFFFFFFF,
	theme.ColorNameHyperlink:           0x0068A3FF,
	theme.ColorNameFocus:               0x0072B24D,
	theme.ColorNameSelection:           0x0072B23D,
	theme.ColorNameButton:              0xE9E9E6FF,
	theme.ColorNameDisabledButton:      0xF1F1EFFF,
	theme.ColorNameDisabled:            0x8A8A86FF,
	theme.ColorNamePlaceHolder:         0x6B6B68FF,
	theme.ColorNameInputBackground:     0xFFFFFFFF,
	theme.ColorNameInputBorder:         0xA8A8A4FF,
	theme.ColorNameSeparator:           0xDEDEDAFF,
	theme.ColorNameHover:               0x0000000F,
	theme.ColorNamePressed:             0x00000019,
	theme.ColorNameError:               0xB84A00FF,
	theme.ColorNameWarning:             0xB07800FF,
	theme.ColorNameHeaderBackground:    0xF4F4F2FF,
	theme.ColorNameMenuBackground:      0xFFFFFFFF,
	theme.ColorNameOverlayBackground:   0xFCFCFBFF,
	theme.ColorNameScrollBar:           0x00000066,
	colorQuiet:                         0x5C5C59FF,
	colorRaised:                        0xF4F4F2FF,
	colorChosen:                        0xE2F0F9FF,
	colorMat:                           0xD5D4D0FF,
	colorChip:                          0xFFFFFFD9,
	colorWarn:                          0xFDEFD9FF,
	colorWarnEdge:                      0xD55E00FF,
	colorInform:                        0xE2F0F9FF,
	colorInformEdge:                    0x0072B2FF,
}

var darkInks = map[fyne.ThemeColorName]uint32{
	theme.ColorNameBackground:          0x1B1C1DFF,
	theme.ColorNameForeground:          0xEFEFECFF,
	theme.ColorNamePrimary:             0x3C9BD6FF,
	theme.ColorNameForegroundOnPrimary: 0x0B0B0BFF,
	theme.ColorNameHyperlink:           0x6FBDEAFF,
	theme.ColorNameFocus:               0x56B4E966,
	theme.ColorNameSelection:           0x56B4E94D,
	theme.ColorNameButton:              0x36383AFF,
	theme.ColorNameDisabledButton:      0x27282AFF,
	theme.ColorNameDisabled:            0x7C7E80FF,
	theme.ColorNamePlaceHolder:         0x9A9C9EFF,
	theme.ColorNameInputBackground:     0x141516FF,
	theme.ColorNameInputBorder:         0x5E6164FF,
	theme.ColorNameSeparator:           0x37393BFF,
	theme.ColorNameHover:               0xFFFFFF12,
	theme.ColorNamePressed:             0xFFFFFF20,
	theme.ColorNameError:               0xF28E4BFF,
	theme.ColorNameWarning:             0xE69F00FF,
	theme.ColorNameHeaderBackground:    0x232425FF,
	theme.ColorNameMenuBackground:      0x232425FF,
	theme.ColorNameOverlayBackground:   0x1F2021FF,
	theme.ColorNameScrollBar:           0xFFFFFF66,
	colorQuiet:                         0xA9ABADFF,
	colorRaised:                        0x232425FF,
	colorChosen:                        0x1D3545FF,
	colorMat:                           0x2E2F30FF,
	colorChip:                          0x1B1C1DD9,
	colorWarn:                          0x3A2C18FF,
	colorWarnEdge:                      0xF28E4BFF,
	colorInform:                        0x1D3545FF,
	colorInformEdge:                    0x56B4E9FF,
}

package drawing_test

import (
	"fmt"
	"math"
	"testing"

	"fettlebook/assess/drawing"
	"fettlebook/assess/term"
)

// Machado, Oliveira and Fernandes, "A physiologically-based model for simulation
// of color vision deficiency", 2009, the matrices at severity 1.0, on linear RGB.
var eyes = map[string][3][3]float64{
	"ordinary": {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protan":   {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deutan":   {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritan":   {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
}

func linear(colour uint32) [3]float64 {
	var rgb [3]float64
	for i := range rgb {
		c := float64(colour>>(16-8*i)&0xFF) / 255
		if c <= 0.04045 {
			rgb[i] = c / 12.92
		} else {
			rgb[i] = math.Pow((c+0.055)/1.055, 2.4)
		}
	}
	return rgb
}

func seen(colour uint32, eye [3][3]float64) [3]float64 {
	rgb := linear(colour)
	var out [3]float64
	for i := range out {
		for j := range rgb {
			out[i] += eye[i][j] * rgb[j]
		}
		out[i] = max(0, min(1, out[i]))
	}
	return out
}

// lab is CIELAB (1976) of linear sRGB under D65.
func lab(rgb [3]float64) [3]float64 {
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x := (0.4124*rgb[0] + 0.3576*rgb[1] + 0.1805*rgb[2]) / 0.95047
	y := 0.2126*rgb[0] + 0.7152*rgb[1] + 0.0722*rgb[2]
	z := (0.0193*rgb[0] + 0.1192*rgb[1] + 0.9505*rgb[2]) / 1.08883
	return [3]float64{116*f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))}
}

func apart(a, b [3]float64) float64 {
	return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
}

// Ten steps of CIELAB are four to five times what is just told apart side by
// side (about 2.3, Mahy and others, 1994).
func TestColourBlindEyesTellTheVerdictsApart(t *testing.T) {
	const least = 10
	for ground, palette := range map[string]*drawing.Palette{"paper": &drawing.Paper, "night": &drawing.Night} {
		for name, eye := range eyes {
			for i, a := range term.Verdicts {
				for _, b := range term.Verdicts[:i] {
					d := apart(lab(seen(palette.Colour(drawing.InkOf(a)), eye)), lab(seen(palette.Colour(drawing.InkOf(b)), eye)))
					if d < least {
						t.Errorf("%s, %s eyes: %s and %s are %.1f apart", ground, name, a, b, d)
					}
				}
			}
		}
	}
}

// In greyscale no two verdicts may share both letter and pattern; each is told
// by either alone.
func TestGreyBandsAreToldByLetterAndPattern(t *testing.T) {
	letters, patterns := map[string]term.Verdict{}, map[string]term.Verdict{}
	for _, v := range term.Verdicts {
		b := drawing.BandOf(v)
		if other, there := letters[b.Letter]; there || b.Letter == "" {
			t.Errorf("%s and %s share the letter %q", v, other, b.Letter)
		}
		letters[b.Letter] = v
		// A solid band is told from another by its width, which must then be a
		// good deal more.
		pattern := fmt.Sprint(len(b.Dash), b.Dash)
		if len(b.Dash) == 0 {
			pattern = fmt.Sprint("solid ", b.Width > 1)
		}
		if other, there := patterns[pattern]; there {
			t.Errorf("%s and %s share the pattern %s", v, other, pattern)
		}
		patterns[pattern] = v
	}
}

// Lines and texts stand out from the ground: WCAG 2 asks 3 to 1 of lines and 4.5
// to 1 of texts.
func TestInksStandOut(t *testing.T) {
	luminance := func(c uint32) float64 { l := linear(c); return 0.2126*l[0] + 0.7152*l[1] + 0.0722*l[2] }
	contrast := func(a, b uint32) float64 {
		x, y := luminance(a), luminance(b)
		return (max(x, y) + 0.05) / (min(x, y) + 0.05)
	}
	for ground, p := range map[string]*drawing.Palette{"paper": &drawing.Paper, "night": &drawing.Night} {
		for ink, least := range map[drawing.Ink]float64{
			drawing.Outline: 4.5, drawing.Fine: 4.5, drawing.Axis: 3, drawing.Words: 4.5, drawing.Quiet: 4.5, drawing.Accent: 4.5,
			drawing.SoundInk: 3, drawing.UsableInk: 3, drawing.RepairableInk: 3, drawing.CondemnedInk: 3, drawing.UndecidedInk: 3,
		} {
			if c := contrast(p.Colour(ink), p.Colour(drawing.Ground)); c < least {
				t.Errorf("%s: ink %d stands out by %.2f", ground, ink, c)
			}
		}
		if c := contrast(p.Colour(drawing.OnAccent), p.Colour(drawing.Accent)); c < 4.5 {
			t.Errorf("%s: words on the accent stand out by %.2f", ground, c)
		}
		if p.Colour(200) != p.Colour(drawing.Words) {
			t.Errorf("%s: an unknown ink is not that of the words", ground)
		}
	}
}

package drawing

import "strings"

// advances are the widths of the printable ASCII runes from the space on, in
// thousandths of the type size: for each the widest of Noto Sans, its bold, and
// DejaVu Sans, so that a text that fits by them fits in all three.
var advances = [...]uint16{
	318, 401, 472, 838, 636, 950, 780, 275, 390, 390, 551, 838, 318, 361, 318, 413, 636, 636, 636, 636,
	636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 690, 686, 698, 770, 632, 575, 775,
	765, 389, 331, 664, 565, 943, 813, 796, 628, 796, 695, 635, 611, 756, 684, 989, 685, 624, 685, 413,
	413, 413, 838, 500, 500, 613, 635, 550, 635, 615, 387, 635, 657, 305, 305, 620, 305, 982, 657, 619,
	635, 635, 454, 521, 434, 657, 592, 856, 592, 592, 525, 636, 337, 636, 838,
}

// textWidth is how wide a text is at most, in mm at a type size in mm. A rune
// that is not ASCII counts as one and a half type sizes, more than any letter.
func textWidth(text string, size float64) float64 {
	sum := 0.0
	for _, r := range text {
		if i := int(r) - ' '; i >= 0 && i < len(advances) {
			sum += float64(advances[i]) / 1000
		} else {
			sum += 1.5
		}
	}
	return sum * size
}

// shorten cuts a text at its end so that it is no wider than given.
func shorten(text string, size, width float64) string {
	if textWidth(text, size) <= width {
		return text
	}
	runes := []rune(text)
	for n := len(runes) - 1; n > 0; n-- {
		if cut := strings.TrimRight(string(runes[:n]), " ") + "…"; textWidth(cut, size) <= width {
			return cut
		}
	}
	return ""
}

// twoLines breaks a text at the space that makes the two lines most alike.
func twoLines(text string, size float64) []string {
	best, least := -1, textWidth(text, size)
	for i, r := range text {
		if r != ' ' {
			continue
		}
		if w := max(textWidth(text[:i], size), textWidth(text[i+1:], size)); w < least {
			best, least = i, w
		}
	}
	if best < 0 {
		return []string{text}
	}
	return []string{text[:best], text[best+1:]}
}

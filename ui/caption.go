package ui

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// caption is one line of text without padding, in a colour of the theme. What
// does not fit ends in an ellipsis; it never makes its neighbours move.
type caption struct {
	widget.BaseWidget

	Text  string
	Color fyne.ThemeColorName
	Tall  fyne.ThemeSizeName
	Bold  bool
	Align fyne.TextAlign
	// Whole keeps the caption as wide as its text; otherwise it may be squeezed.
	Whole bool
}

func newCaption(text string, color fyne.ThemeColorName) *caption {
	c := &caption{Text: oneLine(text), Color: color, Tall: theme.SizeNameText}
	c.ExtendBaseWidget(c)
	return c
}

// newHeading is a caption in bold of a given size that is never squeezed.
func newHeading(text string, size fyne.ThemeSizeName) *caption {
	c := newCaption(text, theme.ColorNameForeground)
	c.Tall, c.Bold = size, true
	return c
}

func (c *caption) small() *caption  { c.Tall = theme.SizeNameCaptionText; return c }
func (c *caption) bold() *caption   { c.Bold = true; return c }
func (c *caption) whole() *caption  { c.Whole = true; return c }
func (c *caption) toEnd() *caption  { c.Align = fyne.TextAlignTrailing; return c }
func (c *caption) middle() *caption { c.Align = fyne.TextAlignCenter; return c }

// SetText shows another text.
func (c *caption) SetText(text string) {
	if text = oneLine(text); text == c.Text {
		return
	}
	c.Text = text
	c.Refresh()
}

// SetColor shows the text in another colour of the theme.
func (c *caption) SetColor(color fyne.ThemeColorName) {
	if color == c.Color {
		return
	}
	c.Color = color
	c.Refresh()
}

// SetBold shows the text in bold or not.
func (c *caption) SetBold(bold bool) {
	if bold == c.Bold {
		return
	}
	c.Bold = bold
	c.Refresh()
}

// longestLine bounds what a line on screen may be made of: to measure a text
// costs time with its length.
const longestLine = 400

func oneLine(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	if runes := []rune(text); len(runes) > longestLine {
		return string(runes[:longestLine]) + "…"
	}
	return text
}

// Natural is how wide the whole text is.
func (c *caption) Natural() float32 {
	return fyne.MeasureText(c.Text, c.Theme().Size(c.Tall), fyne.TextStyle{Bold: c.Bold}).Width + 1
}

// CreateRenderer draws the caption.
func (c *caption) CreateRenderer() fyne.WidgetRenderer {
	c.ExtendBaseWidget(c)
	r := &captionRenderer{c: c, text: canvas.NewText("", nil)}
	r.apply()
	return r
}

type captionRenderer struct {
	c    *caption
	text *canvas.Text
}

func (r *captionRenderer) apply() {
	th := r.c.Theme()
	r.text.Color = th.Color(r.c.Color, fyne.CurrentApp().Settings().ThemeVariant())
	r.text.TextSize = th.Size(r.c.Tall)
	r.text.TextStyle = fyne.TextStyle{Bold: r.c.Bold}
	r.text.Alignment = r.c.Align
	r.text.Text = fitted(r.c.Text, r.c.Size().Width, r.text.TextSize, r.text.TextStyle)
}

// fitted shortens a text to a width; a width of 0 is one that is not known yet.
func fitted(text string, width, size float32, style fyne.TextStyle) string {
	if width <= 0 || text == "" || fyne.MeasureText(text, size, style).Width <= width+0.5 {
		return text
	}
	runes := []rune(text)
	low, high := 0, len(runes)
	for low < high {
		half := (low + high + 1) / 2
		if fyne.MeasureText(string(runes[:half])+"…", size, style).Width <= width {
			low = half
		} else {
			high = half - 1
		}
	}
	return strings.TrimRight(string(runes[:low]), " ") + "…"
}

func (r *captionRenderer) Layout(size fyne.Size) {
	r.text.Text = fitted(r.c.Text, size.Width, r.text.TextSize, r.text.TextStyle)
	height := r.text.MinSize().Height
	r.text.Move(fyne.NewPos(0, (size.Height-height)/2))
	r.text.Resize(fyne.NewSize(size.Width, height))
}

func (r *captionRenderer) MinSize() fyne.Size {
	whole := fyne.MeasureText(r.c.Text, r.text.TextSize, r.text.TextStyle)
	if !r.c.Whole {
		whole.Width = min(whole.Width, 24)
	}
	return whole
}

func (r *captionRenderer) Refresh() {
	r.apply()
	r.Layout(r.c.Size())
	r.text.Refresh()
}

func (r *captionRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.text} }
func (r *captionRenderer) Destroy()                     {}

package ui

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// piece is a run of text in one style. Pieces of a paragraph follow each other
// on the same line.
type piece struct {
	Text  string
	Color fyne.ThemeColorName
	Bold  bool
	Small bool
}

// paragraph is text that wraps, without the padding that Fyne puts around it.
type paragraph struct {
	widget.BaseWidget

	pieces []piece
	rich   *widget.RichText
}

func newParagraph(pieces ...piece) *paragraph {
	p := &paragraph{rich: widget.NewRichText()}
	p.rich.Wrapping = fyne.TextWrapWord
	p.ExtendBaseWidget(p)
	p.Set(pieces...)
	return p
}

// quietly is a paragraph of the second rank.
func quietly(text string) *paragraph {
	return newParagraph(piece{Text: text, Color: colorQuiet, Small: true})
}

func plainly(text string) *paragraph { return newParagraph(piece{Text: text}) }

// Set shows other text.
func (p *paragraph) Set(pieces ...piece) {
	if slices.Equal(p.pieces, pieces) && p.pieces != nil {
		return
	}
	p.pieces = slices.Clone(pieces)
	segments := make([]widget.RichTextSegment, len(pieces))
	for i, one := range pieces {
		style := widget.RichTextStyle{
			Inline: i < len(pieces)-1, ColorName: one.Color, TextStyle: fyne.TextStyle{Bold: one.Bold},
			SizeName: theme.SizeNameText,
		}
		if one.Color == "" {
			style.ColorName = theme.ColorNameForeground
		}
		if one.Small {
			style.SizeName = theme.SizeNameCaptionText
		}
		segments[i] = &widget.TextSegment{Text: one.Text, Style: style}
	}
	p.rich.Segments = segments
	p.rich.Refresh()
	p.Refresh()
}

// CreateRenderer draws the paragraph.
func (p *paragraph) CreateRenderer() fyne.WidgetRenderer {
	p.ExtendBaseWidget(p)
	return &paragraphRenderer{p: p}
}

type paragraphRenderer struct{ p *paragraph }

// The padding that is taken away again around Fyne's text.
func (r *paragraphRenderer) padding() float32 { return r.p.Theme().Size(theme.SizeNameInnerPadding) }

func (r *paragraphRenderer) Layout(size fyne.Size) {
	pad := r.padding()
	r.p.rich.Move(fyne.NewPos(-pad, -pad))
	r.p.rich.Resize(fyne.NewSize(size.Width+2*pad, size.Height+2*pad))
}

func (r *paragraphRenderer) MinSize() fyne.Size {
	pad := r.padding()
	least := r.p.rich.MinSize()
	return fyne.NewSize(max(least.Width-2*pad, 40), max(least.Height-2*pad, 0))
}

func (r *paragraphRenderer) Refresh() { r.p.rich.Refresh() }

func (r *paragraphRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.p.rich} }
func (r *paragraphRenderer) Destroy()                     {}

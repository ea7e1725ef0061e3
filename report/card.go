package report

import (
	"context"
	"fmt"
	"io"
	"time"

	"fettlebook/report/pdf"
)

// CardOrder says which bench cards are printed: paper for greasy hands, half a
// page a part, ticked and written on at the bench and typed in later.
type CardOrder struct {
	Paper   pdf.Paper
	Fonts   pdf.Fonts
	Creator string
	// Created dates the file.
	Created time.Time
	// Unit says which core it is, for the foot of each card.
	Unit string
	// Hold says why nothing may be cleaned, empty where it may.
	Hold  string
	Cards []Card
}

// Card is what is asked of one part.
type Card struct {
	Name, Place, Tag string
	// Loose asks for the count of loose items.
	Loose    bool
	Surfaces []CardSurface
}

// CardSurface is what is asked of one surface.
type CardSurface struct {
	Number     int
	Name       string
	Felt       bool
	Damages    []CardDamage
	Dimensions []CardDimension
}

// CardDamage is a kind of damage with as many boxes as its severity has steps.
type CardDamage struct {
	Name  string
	Steps int
}

// CardDimension is something to be measured; Limit is empty where none is known.
type CardDimension struct{ Name, Limit string }

// The card's own measures, in millimetres.
const (
	cardMargin = 12.0
	cardEdge   = 8.0
	cardLine   = 5.6
	cardTall   = 7.6
	cardHead   = 15.0
	cardFoot   = 7.0
)

var (
	cardTitle = pdf.Style{Face: pdf.Bold, Size: 13, Color: inkText}
	cardText  = pdf.Style{Size: 8.6, Color: inkText}
	cardBold  = pdf.Style{Face: pdf.Bold, Size: 9.2, Color: inkText}
)

// WriteCards writes the cards as a PDF: two on a page where they fit.
func WriteCards(ctx context.Context, w io.Writer, o CardOrder) error {
	if o.Paper == (pdf.Paper{}) {
		o.Paper = pdf.A4
	}
	doc, err := pdf.New(w, pdf.Options{
		Title: "Bench cards: " + o.Unit, Subject: "To be filled in at the bench", Creator: o.Creator,
		Created: o.Created, Paper: o.Paper, Fonts: o.Fonts,
	})
	if err != nil {
		return fmt.Errorf("begin the cards: %w", err)
	}
	c := cards{ctx: ctx, doc: doc, order: o, half: o.Paper.Height / 2}
	for i := range o.Cards {
		if err := c.card(&o.Cards[i]); err != nil {
			return fmt.Errorf("lay out the cards: %w", err)
		}
	}
	if err := doc.Close(ctx); err != nil {
		return fmt.Errorf("write the cards: %w", err)
	}
	return nil
}

type cards struct {
	ctx   context.Context
	doc   *pdf.Document
	page  *pdf.Page
	order CardOrder
	// half is the height of half a page, and next where the next card begins.
	half, next float64
	// end is where the card ends on its page, floor how far down its lines may go.
	y, end, floor float64
	err           error
	// line is how high a line of the card is, and box how large a box: large where
	// there is room, for thick pencils.
	line, box float64
}

func (c *cards) width() float64 { return c.order.Paper.Width - 2*cardMargin }

// card sets one card: in the lower half of the page that was begun, or on a new
// one. A card that needs more than half a page has the page to itself; one that needs
// more than a page goes on on the next.
func (c *cards) card(card *Card) error {
	tall := !c.fit(card, c.half)
	if tall {
		c.fit(card, c.order.Paper.Height)
	}
	if c.page == nil || c.next == 0 || tall {
		if c.turn(); c.err != nil {
			return c.err
		}
	}
	c.page.Bookmark(0, c.next, card.Name)
	c.y = c.next + cardEdge
	if c.end = c.half; tall || c.next > 0 {
		c.end = c.order.Paper.Height
	}
	c.floor = c.end - cardEdge - cardFoot
	c.head(card, card.Name)
	for i := range card.Surfaces {
		c.surface(card, &card.Surfaces[i])
		if c.err != nil {
			return c.err
		}
	}
	c.foot()
	if tall || c.next > 0 {
		c.next = 0
		return nil
	}
	c.page.Line(pdf.Point{X: 0, Y: c.half}, pdf.Point{X: c.order.Paper.Width, Y: c.half}, pdf.Paint{Stroke: inkRule, Width: 0.2, Dash: []float64{2, 2}})
	c.next = c.half
	return nil
}

// turn begins a page.
func (c *cards) turn() {
	page, err := c.doc.NewPage(c.ctx)
	if c.err = err; err == nil {
		c.page, c.next = page, 0
	}
}

// need has the next lines of a card stand on one page: where they don't fit, the card
// goes on on a new one. It reports whether it did.
func (c *cards) need(card *Card, height float64) bool {
	if c.y+height <= c.floor || c.err != nil {
		return false
	}
	c.foot()
	if c.turn(); c.err != nil {
		return false
	}
	c.y = cardEdge
	c.head(card, card.Name+", continued")
	return true
}

func (c *cards) rule(x, y, width float64) {
	c.page.Line(pdf.Point{X: x, Y: y}, pdf.Point{X: x + width, Y: y}, pdf.Paint{Stroke: inkQuiet, Width: 0.2})
}

// ticked sets a word with a box behind it and returns where the next goes.
func (c *cards) ticked(x float64, word string, boxes int) float64 {
	x += c.page.Text(x, c.y, cardText, pdf.Left, word) + 1
	for range boxes {
		c.page.Rect(pdf.Rect{X: x, Y: c.y - c.box + 0.6, W: c.box, H: c.box}, pdf.Paint{Stroke: inkText, Width: 0.25})
		x += c.box + 0.6
	}
	return x + 2.6
}

// blank sets a word with a line to write on behind it.
func (c *cards) blank(x float64, word string, width float64) float64 {
	x += c.page.Text(x, c.y, cardText, pdf.Left, word) + 1
	c.rule(x, c.y+0.6, width)
	return x + width + 3
}

func (c *cards) head(card *Card, name string) {
	right := c.order.Paper.Width - cardMargin
	c.page.Text(cardMargin, c.y+4, cardTitle, pdf.Left, c.doc.Shorten(cardTitle, name, c.width()*0.5))
	c.page.Text(right, c.y+4, quiet, pdf.Right, c.doc.Shorten(quiet, c.order.Unit, c.width()*0.45))
	c.y += 10
	x := cardMargin
	if card.Tag == "" {
		x = c.blank(x, "tray", 16)
	} else {
		x += c.page.Text(x, c.y, cardBold, pdf.Left, "tray "+card.Tag) + 5
	}
	for _, state := range []string{"missing", "wrong part", "scrap"} {
		x = c.ticked(x, state, 1)
	}
	if card.Loose {
		x = c.blank(x, "counted", 10)
	}
	x = c.blank(x, "by", 24)
	c.blank(x, "date", 20)
	c.y += 2
	c.page.Line(pdf.Point{X: cardMargin, Y: c.y}, pdf.Point{X: right, Y: c.y}, pdf.Paint{Stroke: inkText, Width: 0.4})
	c.y += 1
}

// surface sets the ticks of one surface, its damages and its readings, together where
// a page holds them.
func (c *cards) surface(card *Card, s *CardSurface) {
	lines := c.lines(s)
	whole := float64(1+len(lines)+len(s.Dimensions))*c.line + 1.6
	if most := c.order.Paper.Height - 2*cardEdge - cardHead - cardFoot; whole > most {
		whole = 3 * c.line
	}
	c.need(card, whole)
	if c.err != nil {
		return
	}
	right := c.order.Paper.Width - cardMargin
	c.y += c.line - 0.8
	x := right - 50
	c.page.Text(cardMargin, c.y, cardBold, pdf.Left, fmt.Sprint(s.Number))
	c.page.Text(cardMargin+5, c.y, cardBold, pdf.Left, c.doc.Shorten(cardBold, s.Name, x-cardMargin-8))
	x = c.ticked(x, "looked", 1)
	if s.Felt {
		x = c.ticked(x, "felt", 1)
	} else {
		x += c.doc.Width(cardText, "felt") + c.box + 4.2
	}
	c.ticked(x, "clean", 1)
	for _, line := range lines {
		c.down(card, s)
		x := cardMargin + 5
		for _, d := range line {
			x = c.ticked(x, d.Name, d.Steps)
		}
		if len(line) == 0 || x < right-30 {
			c.blank(x, "other", right-x-11)
		}
	}
	for _, d := range s.Dimensions {
		if c.down(card, s); c.err != nil {
			return
		}
		c.dimension(d)
	}
	c.y += 1.6
	c.rule(cardMargin, c.y, c.width())
}

// down goes to the next line of a surface, which says its name again on a new page.
func (c *cards) down(card *Card, s *CardSurface) {
	if c.need(card, c.line+1.6) {
		c.y += c.line - 0.8
		c.page.Text(cardMargin, c.y, cardBold, pdf.Left, fmt.Sprint(s.Number))
		c.page.Text(cardMargin+5, c.y, cardBold, pdf.Left, c.doc.Shorten(cardBold, s.Name+", continued", c.width()-8))
	}
	c.y += c.line
}

func (c *cards) dimension(d CardDimension) {
	says := d.Name
	if d.Limit != "" {
		says += ", limit " + d.Limit
	}
	x := cardMargin + 5 + c.page.Text(cardMargin+5, c.y, cardText, pdf.Left, c.doc.Shorten(cardText, says, c.width()*0.42)) + 2
	right := c.order.Paper.Width - cardMargin
	for x+17 < right-30 {
		c.page.Rect(pdf.Rect{X: x, Y: c.y - c.box + 0.2, W: 15, H: c.box + 0.8}, pdf.Paint{Stroke: inkQuiet, Width: 0.2})
		x += 16.5
	}
	c.blank(x, "with", right-x-9)
}

// lines divides the damages of a surface over lines; at least one, for what is
// written by hand.
func (c *cards) lines(s *CardSurface) [][]CardDamage {
	lines, room := [][]CardDamage{nil}, c.width()-5
	left := room
	for _, d := range s.Damages {
		width := c.doc.Width(cardText, d.Name) + 1 + float64(d.Steps)*(c.box+0.6) + 2.6
		if width > left && len(lines[len(lines)-1]) > 0 {
			lines, left = append(lines, nil), room
		}
		lines[len(lines)-1] = append(lines[len(lines)-1], d)
		left -= width
	}
	if left < 30 {
		lines = append(lines, nil)
	}
	return lines
}

// fit chooses how high the lines are so that the card fills what it has, and
// reports whether it fits at all.
func (c *cards) fit(card *Card, room float64) bool {
	room -= 2*cardEdge + cardHead + cardFoot + 1.6*float64(len(card.Surfaces))
	for _, c.line = range []float64{cardTall, (cardTall + cardLine) / 2, cardLine} {
		c.box = c.line * 0.58
		lines := 0
		for i := range card.Surfaces {
			lines += 1 + len(c.lines(&card.Surfaces[i])) + len(card.Surfaces[i].Dimensions)
		}
		if float64(lines)*c.line <= room {
			return true
		}
	}
	return false
}

func (c *cards) foot() {
	end := c.end
	if hold := c.order.Hold; hold != "" {
		c.page.Text(cardMargin, end-cardEdge-4, cardBold, pdf.Left, c.doc.Shorten(cardBold, "ON HOLD, do not clean: "+hold, c.width()))
	}
	c.page.Text(cardMargin, end-cardEdge, tiny, pdf.Left,
		"Three boxes: seen, felt with a fingernail, deep. Two boxes: suspected, present. Leave empty what you did not look at: it is then not called sound.")
}

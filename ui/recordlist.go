package ui

import (
	"image"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// recordList is the list of the register. Only the rows in sight are made.
type recordList struct {
	widget.List

	of       *register
	selected int
	// record is the selected one: it stays selected where its place changes.
	record record.ID
}

func newRecordList(of *register) *recordList {
	l := &recordList{of: of}
	l.Length = func() int { return len(of.rows) }
	l.CreateItem = func() fyne.CanvasObject { return newRecordRow(l) }
	l.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) {
		if i >= len(of.rows) {
			return
		}
		o.(*recordRow).set(i, of.rows[i], i == l.selected)
		if i >= len(of.rows)-pageRows/3 {
			of.more()
		}
	}
	l.HideSeparators = true
	l.ExtendBaseWidget(l)
	return l
}

// changed shows other rows. The selected record stays selected; where it is gone,
// the first is.
func (l *recordList) changed() {
	l.selected = 0
	for i := range l.of.rows {
		if l.of.rows[i].Record == l.record {
			l.selected = i
		}
	}
	l.Refresh()
}

func (l *recordList) walk(by int) {
	if len(l.of.rows) == 0 {
		return
	}
	l.pick(min(max(l.selected+by, 0), len(l.of.rows)-1))
}

func (l *recordList) pick(i int) {
	before := l.selected
	l.selected, l.record = i, l.of.rows[i].Record
	l.RefreshItem(before)
	l.RefreshItem(i)
	l.ScrollTo(i)
}

// TypedKey walks and opens.
func (l *recordList) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyUp:
		l.walk(-1)
	case fyne.KeyDown:
		l.walk(1)
	case fyne.KeyPageUp:
		l.walk(-8)
	case fyne.KeyPageDown:
		l.walk(8)
	case fyne.KeyHome:
		l.walk(-len(l.of.rows))
	case fyne.KeyEnd:
		l.walk(len(l.of.rows))
	default:
		l.of.f.typedKey(ev.Name)
	}
}

// TypedRune passes letters on.
func (l *recordList) TypedRune(r rune) { l.of.f.typedRune(r) }

var (
	_ fyne.DoubleTappable = (*recordRow)(nil)
	_ desktop.Mouseable   = (*recordRow)(nil)
	_ desktop.Hoverable   = (*recordRow)(nil)
)

// recordRow is one record: its photo, what it is, whose it is, what came of it.
type recordRow struct {
	widget.BaseWidget

	of       *recordList
	at       int
	row      inspection.Row
	selected bool
	hovered  bool
	picture  image.Image
}

func newRecordRow(of *recordList) *recordRow {
	r := &recordRow{of: of}
	r.ExtendBaseWidget(r)
	return r
}

func (r *recordRow) set(at int, shown inspection.Row, selected bool) {
	if r.at == at && r.row == shown && r.selected == selected {
		return
	}
	if rowKey(shown) != rowKey(r.row) {
		r.picture = nil
		r.fetch(shown)
	}
	r.at, r.row, r.selected = at, shown, selected
	r.Refresh()
}

// fetch gets the photo. A row is used again for other records while one scrolls,
// so the answer is dropped if the row has moved on.
func (r *recordRow) fetch(row inspection.Row) {
	if row.Photo == "" {
		return
	}
	f := r.of.of.f
	if r.picture = f.pictures.have(rowKey(row)); r.picture != nil {
		return
	}
	f.pictures.wantRow(row, func(img image.Image, err error) {
		if err == nil && rowKey(r.row) == rowKey(row) {
			r.picture = img
			r.Refresh()
		}
	})
}

// MouseDown selects the record.
func (r *recordRow) MouseDown(*desktop.MouseEvent) {
	r.of.of.f.focus(r.of)
	r.of.pick(r.at)
}

// MouseUp has no use.
func (r *recordRow) MouseUp(*desktop.MouseEvent) {}

// DoubleTapped opens the record.
func (r *recordRow) DoubleTapped(*fyne.PointEvent) { r.of.of.open(r.row.Record) }

// MouseIn shows what would be hit.
func (r *recordRow) MouseIn(*desktop.MouseEvent) { r.hovered = true; r.Refresh() }

// MouseMoved has no use.
func (r *recordRow) MouseMoved(*desktop.MouseEvent) {}

// MouseOut shows that it would not be hit.
func (r *recordRow) MouseOut() { r.hovered = false; r.Refresh() }

// CreateRenderer draws the row.
func (r *recordRow) CreateRenderer() fyne.WidgetRenderer {
	r.ExtendBaseWidget(r)
	d := &recordRowRenderer{
		r: r, ground: canvas.NewRectangle(nil), edge: canvas.NewRectangle(nil), mat: canvas.NewRectangle(nil),
		picture: &canvas.Image{FillMode: canvas.ImageFillContain},
		unit:    newCaption("", theme.ColorNameForeground).bold(), serial: newCaption("", colorQuiet),
		owner: newCaption("", theme.ColorNameForeground), received: newCaption("", theme.ColorNameForeground),
		outcome: newCaption("", theme.ColorNameForeground).bold(), counts: newCaption("", colorQuiet).small(),
	}
	d.Refresh()
	return d
}

type recordRowRenderer struct {
	r                 *recordRow
	ground, edge, mat *canvas.Rectangle
	picture           *canvas.Image
	unit, serial      *caption
	owner, received   *caption
	outcome, counts   *caption
}

const (
	recordRowHeight = 62
	recordPicture   = 76
)

// registerColumns divides the width of a row.
type registerColumns struct{}

// at returns where the columns for unit, customer, received and outcome begin,
// and where the last ends.
func (registerColumns) at(width float32) [5]float32 {
	left := float32(recordPicture + 24)
	room := width - left - 10
	return [5]float32{left, left + room*0.26, left + room*0.46, left + room*0.57, width - 10}
}

func (c registerColumns) header() fyne.CanvasObject {
	h := &columnHeads{}
	for _, name := range []string{"Unit, serial", "Customer", "Received", "Outcome"} {
		h.names = append(h.names, newCaption(name, colorQuiet).small())
	}
	h.ExtendBaseWidget(h)
	return h
}

// columnHeads names the columns of the register.
type columnHeads struct {
	widget.BaseWidget
	names []*caption
}

// CreateRenderer draws the names.
func (h *columnHeads) CreateRenderer() fyne.WidgetRenderer { return &columnHeadsRenderer{h: h} }

type columnHeadsRenderer struct{ h *columnHeads }

func (d *columnHeadsRenderer) Layout(size fyne.Size) {
	at := registerColumns{}.at(size.Width)
	for i, n := range d.h.names {
		n.Move(fyne.NewPos(at[i], 0))
		n.Resize(fyne.NewSize(at[i+1]-at[i]-12, size.Height))
	}
}
func (d *columnHeadsRenderer) MinSize() fyne.Size {
	return fyne.NewSize(300, theme.CaptionTextSize()*1.4)
}
func (d *columnHeadsRenderer) Refresh() {}
func (d *columnHeadsRenderer) Objects() []fyne.CanvasObject {
	objects := make([]fyne.CanvasObject, len(d.h.names))
	for i := range objects {
		objects[i] = d.h.names[i]
	}
	return objects
}
func (d *columnHeadsRenderer) Destroy() {}

func (d *recordRowRenderer) Layout(size fyne.Size) {
	d.ground.Resize(size)
	d.edge.Move(fyne.NewPos(0, size.Height-1))
	d.edge.Resize(fyne.NewSize(size.Width, 1))
	box := fyne.NewSize(recordPicture, size.Height-10)
	d.mat.Move(fyne.NewPos(6, 5))
	d.mat.Resize(box)
	d.picture.Move(fyne.NewPos(6, 5))
	d.picture.Resize(box)
	at := registerColumns{}.at(size.Width)
	high := d.unit.MinSize().Height
	top := (size.Height - 2*high) / 2
	two := func(a, b *caption, column int) {
		width := at[column+1] - at[column] - 12
		a.Move(fyne.NewPos(at[column], top))
		a.Resize(fyne.NewSize(width, high))
		b.Move(fyne.NewPos(at[column], top+high))
		b.Resize(fyne.NewSize(width, high))
	}
	one := func(a *caption, column int) {
		a.Move(fyne.NewPos(at[column], 0))
		a.Resize(fyne.NewSize(at[column+1]-at[column]-12, size.Height))
	}
	two(d.unit, d.serial, 0)
	one(d.owner, 1)
	one(d.received, 2)
	two(d.outcome, d.counts, 3)
}

func (d *recordRowRenderer) MinSize() fyne.Size { return fyne.NewSize(400, recordRowHeight) }

func (d *recordRowRenderer) Refresh() {
	th, variant := d.r.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	ground := theme.ColorNameBackground
	switch {
	case d.r.selected:
		ground = colorChosen
	case d.r.hovered:
		ground = colorRaised
	}
	d.ground.FillColor = th.Color(ground, variant)
	d.edge.FillColor = th.Color(theme.ColorNameSeparator, variant)
	d.mat.FillColor = th.Color(colorMat, variant)
	if d.picture.Image != d.r.picture {
		d.picture.Image = d.r.picture
		d.picture.Hidden = d.r.picture == nil
		d.picture.Refresh()
	}
	row := d.r.row
	d.unit.Text = oneLine(firstOf(row.Unit, "unit not named"))
	d.serial.Text = oneLine(serialSays(row.Serial))
	d.owner.Text = oneLine(row.Owner)
	d.received.Text = day(row.Received)
	outcome, counts, _ := strings.Cut(row.Outcome, ": ")
	d.outcome.Text, d.counts.Text = capital(outcome), counts
	d.Layout(d.r.Size())
	for _, c := range []*caption{d.unit, d.serial, d.owner, d.received, d.outcome, d.counts} {
		c.Refresh()
	}
	canvas.Refresh(d.r)
}

func (d *recordRowRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{d.ground, d.edge, d.mat, d.picture, d.unit, d.serial, d.owner, d.received, d.outcome, d.counts}
}

func (d *recordRowRenderer) Destroy() {}

func serialSays(serial string) string {
	if serial == "" {
		return "no serial"
	}
	return "serial " + serial
}

// day shows a day of the record, which stands there as YYYY-MM-DD.
func day(text string) string {
	if text == "" {
		return "–"
	}
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return text
	}
	return t.Format("2 Jan 2006")
}

package ui

import (
	"context"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// register is the place that lists the records.
type register struct {
	f *frame

	search  *field
	list    *recordList
	empty   *fyne.Container
	heading *caption
	page    fyne.CanvasObject

	rows []inspection.Row
	next string
	// asked numbers the questions: an answer to an older one is dropped.
	asked   int
	asking  bool
	timer   *time.Timer
	stop    context.CancelFunc
	opening record.ID
}

// searchRests is how long a pause in typing begins the search.
const searchRests = 120 * time.Millisecond

// pageRows is how many rows are asked for at a time.
const pageRows = 60

func newRegister(f *frame) *register {
	r := &register{f: f}
	r.search = newField(f, "Search: unit, serial, customer, claim, tag …")
	r.search.OnChanged = func(string) { r.searchSoon() }
	r.search.OnSubmitted = func(string) { r.openSelected() }
	r.search.onKey = func(name fyne.KeyName) bool {
		switch {
		case name == fyne.KeyDown || name == fyne.KeyUp:
			r.list.walk(map[fyne.KeyName]int{fyne.KeyDown: 1, fyne.KeyUp: -1}[name])
			return true
		case name == fyne.KeyEscape && r.search.Text != "":
			r.search.SetText("")
			return true
		}
		return false
	}
	r.list = newRecordList(r)
	r.heading = newCaption("", colorQuiet)
	r.empty = container.NewStack()
	r.page = r.build()
	return r
}

func (r *register) build() fyne.CanvasObject {
	begin := newButton(r.f, "New record", theme.ContentAddIcon(), r.begin).primary()
	if r.f.bench.ReadOnly() {
		begin.Disable()
	}
	title := line(10, newHeading("Register", theme.SizeNameHeadingText).whole(), r.heading.whole())
	bar := container.NewBorder(nil, nil, padded(title, 0, 0, 4, 16),
		line(8, newButton(r.f, "Gauge room", nil, r.f.showGaugeRoom).low(), newButton(r.f, "Shop", nil, r.f.showShop).low(), r.shadeButton(), begin), r.search)
	head := onGround(colorRaised, padded(bar, 9, 9, 12, 12))
	names := padded(registerColumns{}.header(), 6, 2, 6, 6)
	return container.NewBorder(container.NewVBox(head, widget.NewSeparator(), names), nil, nil, nil,
		container.NewStack(padded(r.list, 0, 6, 6, 6), r.empty))
}

func (r *register) shadeButton() fyne.CanvasObject {
	return newButton(r.f, "", theme.ColorPaletteIcon(), r.f.nextShade).low()
}

func (r *register) view() fyne.CanvasObject { return r.page }
func (r *register) title() string           { return "Register" }
func (r *register) dropped([]string) bool   { return false }
func (r *register) back()                   { r.f.focus(r.list) }

func (r *register) actions() actions {
	return actions{
		{says: "New record", strokes: []stroke{ctrl(fyne.KeyN)}, run: r.begin, changes: true},
		{says: "Search", strokes: []stroke{ctrl(fyne.KeyF), letter('/')}, run: func() { r.f.focus(r.search) }},
		{says: "Open the record", strokes: []stroke{plain(fyne.KeyReturn), plain(fyne.KeyEnter)}, run: r.openSelected},
		{says: "Record above, below", strokes: []stroke{{key: "↑ and ↓"}}},
		{says: "First, last record", strokes: []stroke{{key: "Home and End"}}},
	}
}

// enter reads the register anew and keeps watching it: another program may
// change it.
func (r *register) enter() {
	r.f.focus(r.search)
	r.find()
	ctx, stop := context.WithCancel(r.f.ctx)
	r.stop = stop
	go func() {
		changed, err := r.f.bench.Watch(ctx)
		if err != nil {
			return
		}
		for range changed {
			r.f.later(r.searchSoon)
		}
	}()
}

func (r *register) leave() {
	r.asked++
	if r.stop != nil {
		r.stop()
	}
	if r.timer != nil {
		r.timer.Stop()
	}
}

// searchSoon asks once typing rests.
func (r *register) searchSoon() {
	if r.timer != nil {
		r.timer.Stop()
	}
	r.timer = time.AfterFunc(searchRests, func() {
		r.f.later(func() {
			if r.f.here == r {
				r.find()
			}
		})
	})
}

// find asks for the first page. As many rows as were shown are asked for, so that
// a change elsewhere does not make the list jump.
func (r *register) find() {
	r.asked++
	q := r.query("")
	q.Limit = max(pageRows, min(len(r.rows), 10*pageRows))
	r.ask(q, func(page inspection.Page) {
		r.rows, r.next = page.Rows, page.Next
		r.list.changed()
		r.tell()
	})
}

// more asks for the next page, once.
func (r *register) more() {
	if r.next == "" || r.asking {
		return
	}
	r.ask(r.query(r.next), func(page inspection.Page) {
		r.rows, r.next = append(r.rows, page.Rows...), page.Next
		r.list.Refresh()
		r.tell()
	})
}

func (r *register) query(after string) inspection.Query {
	return inspection.Query{Words: strings.Fields(r.search.Text), After: after, Limit: pageRows}
}

func (r *register) ask(q inspection.Query, take func(inspection.Page)) {
	r.asking = true
	asked := r.asked
	beside(r.f, func(ctx context.Context) (inspection.Page, error) { return r.f.bench.Find(ctx, q) },
		func(page inspection.Page, err error) {
			if asked != r.asked {
				return
			}
			r.asking = false
			if err != nil {
				r.f.notices.put(notice{ID: "register", Warns: true, words: wordsFor("The register could not be read.", err),
					Do: "Try again", Doing: func() { r.f.notices.take("register"); r.find() }})
				return
			}
			r.f.notices.take("register")
			take(page)
		})
}

// tell says how many there are, and what to do when there is none.
func (r *register) tell() {
	count := countOf(len(r.rows), "record", "records")
	if r.next != "" {
		count = "the newest " + count
	}
	r.heading.SetText(count)
	r.empty.Objects = nil
	switch {
	case len(r.rows) > 0:
	case strings.TrimSpace(r.search.Text) != "":
		r.empty.Objects = []fyne.CanvasObject{r.message("Nothing found",
			"No record has all of these words. Fewer or shorter words find more: the beginning of a word is enough.",
			newButton(r.f, "Show all records", nil, func() { r.search.SetText("") }))}
	default:
		begin := newButton(r.f, "New record  (Ctrl+N)", theme.ContentAddIcon(), r.begin).primary()
		if r.f.bench.ReadOnly() {
			begin.Disable()
		}
		r.empty.Objects = []fyne.CanvasObject{r.message("No record yet",
			"A record holds everything seen on one worn unit: photos, findings, verdicts with their reasons, and the report. "+
				"Begin one as a unit comes in, before anything is washed off.", begin)}
	}
	r.empty.Refresh()
}

func (r *register) message(title, text string, button *button) fyne.CanvasObject {
	box := column(10, newHeading(title, theme.SizeNameHeadingText), plainly(text), container.NewHBox(button))
	return container.New(layout.NewCenterLayout(), atLeast(box, 460, 150))
}

func (r *register) begin() {
	if !r.f.bench.ReadOnly() {
		r.f.show(newRecordPage(r.f, r))
	}
}

func (r *register) openSelected() {
	if i := r.list.selected; i >= 0 && i < len(r.rows) {
		r.list.record = r.rows[i].Record
		r.open(r.rows[i].Record)
	}
}

// open reads a record beside the window and goes to it.
func (r *register) open(id record.ID) {
	if r.opening == id {
		return
	}
	r.opening = id
	beside(r.f, func(ctx context.Context) (*inspection.Inspection, error) { return r.f.bench.Inspect(ctx, id) },
		func(n *inspection.Inspection, err error) {
			if r.opening != id {
				return
			}
			r.opening = ""
			if err != nil {
				r.f.notices.put(notice{ID: "open", Warns: true, words: wordsFor("The record could not be opened.", err)})
				return
			}
			r.f.notices.take("open")
			if r.f.here == r {
				r.f.show(newInspectionPlace(r.f, r, n))
			}
		})
}

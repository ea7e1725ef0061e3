package ui

import (
	"context"
	"time"

	"fyne.io/fyne/v2"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// newRecord is the page on which a core is taken in.
type newRecord struct {
	f    *frame
	from *register
	form *recordForm
	do   *button
	page fyne.CanvasObject
}

func newRecordPage(f *frame, from *register) *newRecord {
	n := &newRecord{f: f, from: from, form: newRecordForm(f)}
	n.form.received.SetText(time.Now().Format(time.DateOnly))
	if len(n.form.units) == 1 {
		n.form.kind.SetSelectedIndex(0)
	}
	n.do = newButton(f, "Begin the record  (Ctrl+Enter)", nil, n.begin).primary()
	cancel := newButton(f, "Cancel  (Esc)", nil, n.back)
	n.page = formPage(f, "New record",
		"Only the unit type is needed to begin; all else can be added later. The parts are laid out from the unit's spec.",
		n.form, n.do, cancel)
	return n
}

func (n *newRecord) view() fyne.CanvasObject { return n.page }
func (n *newRecord) title() string           { return "New record" }
func (n *newRecord) dropped([]string) bool   { return false }
func (n *newRecord) back()                   { n.f.show(n.from) }
func (n *newRecord) leave()                  {}

func (n *newRecord) enter() {
	if n.form.chosen == "" {
		n.f.focus(n.form.kind)
		return
	}
	n.f.focus(n.form.serial)
}

func (n *newRecord) actions() actions {
	return actions{
		{says: "Begin the record", strokes: []stroke{ctrl(fyne.KeyReturn)}, run: n.begin, changes: true},
		{says: "Back to the register", strokes: []stroke{plain(fyne.KeyEscape)}},
	}
}

func (n *newRecord) begin() {
	if n.do.Disabled() || !n.form.check() {
		return
	}
	r := record.New(record.Unit{}, term.Road)
	n.form.put(r)
	n.do.Disable()
	beside(n.f, func(ctx context.Context) (*inspection.Inspection, error) { return n.f.bench.Begin(ctx, r) },
		func(at *inspection.Inspection, err error) {
			n.do.Enable()
			if err != nil {
				n.f.notices.put(notice{ID: "begin", Warns: true, words: wordsFor("The record was not begun.", err)})
				return
			}
			n.f.notices.take("begin")
			if n.f.here == n {
				n.f.show(newInspectionPlace(n.f, n.from, at))
			}
		})
}

package ui

import (
	"strings"

	"fyne.io/fyne/v2"

	"fettlebook/assess/record"
)

// details is the page on which what is known of the unit and its owner is changed.
type details struct {
	p    *inspectionPlace
	form *recordForm
	page fyne.CanvasObject
}

func (p *inspectionPlace) showDetails() {
	d := &details{p: p, form: newRecordForm(p.f)}
	d.form.fill(p.n.Record())
	done := newButton(p.f, "Done  (Ctrl+Enter)", nil, d.done).primary()
	if !p.editable() {
		done.Disable()
	}
	d.page = formPage(p.f, "Unit, customer, complaint",
		"Another unit type leaves the parts as they are.", d.form, done, newButton(p.f, "Cancel  (Esc)", nil, d.back))
	p.f.show(d)
}

func (d *details) view() fyne.CanvasObject { return d.page }
func (d *details) title() string           { return d.p.n.Record().Unit.Says() }
func (d *details) dropped([]string) bool   { return false }
func (d *details) back()                   { d.p.f.show(d.p) }
func (d *details) enter()                  { d.p.f.focus(d.form.serial) }
func (d *details) leave()                  {}

func (d *details) actions() actions {
	return actions{
		{says: "Done", strokes: []stroke{ctrl(fyne.KeyReturn)}, run: d.done, changes: true},
		{says: "Back to the inspection", strokes: []stroke{plain(fyne.KeyEscape)}},
	}
}

func (d *details) done() {
	if !d.form.check() {
		return
	}
	says := "unit, customer and complaint edited"
	switch hold := strings.TrimSpace(d.form.hold.Text); {
	case hold == d.p.n.Record().Hold:
	case hold == "":
		says += "; released from its hold"
	default:
		says += "; on hold: " + hold
	}
	if d.p.do("The record was not changed.", record.Set(says, d.form.put)) {
		d.back()
	}
}

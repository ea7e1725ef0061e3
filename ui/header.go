package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// header is the bar at the top of the inspection: what is worked on, for which
// duty, what came of it so far, and the report.
type header struct {
	p       *inspectionPlace
	unit    *caption
	owner   *caption
	outcome *caption
	why     *caption
	duty    *choices
	object  fyne.CanvasObject
}

func newHeader(p *inspectionPlace) *header {
	h := &header{p: p}
	h.unit = newHeading("", theme.SizeNameSubHeadingText)
	h.owner = newCaption("", colorQuiet).small()
	h.outcome = newCaption("", theme.ColorNameForeground).bold().toEnd()
	h.why = newCaption("", colorQuiet).small().toEnd()
	h.duty = newChoices(p.f, []choice{{ID: string(term.Yard), Label: "yard"}, {ID: string(term.Road), Label: "road"}, {ID: string(term.HardDuty), Label: "hard"}},
		func(id string) { h.setDuty(term.Duty(id)) })
	h.duty.SetDisabled(!p.editable())
	back := newButton(p.f, "Register", theme.NavigateBackIcon(), p.toRegister).low()
	details := newButton(p.f, "", theme.DocumentCreateIcon(), p.showDetails).low()
	report := newButton(p.f, "Report", theme.DocumentPrintIcon(), p.showReport).primary()
	export := newButton(p.f, "", theme.UploadIcon(), p.showExport).low()
	unit := container.New(&hug{}, upright(column(0, h.unit, h.owner)), details)
	core := newButton(p.f, "", theme.InfoIcon(), p.showCore).low()
	outcome := container.NewBorder(nil, nil, nil, core, upright(column(0, h.outcome, h.why)))
	middle := container.New(shares{0.46, 0.54}, unit, outcome)
	row := container.NewBorder(nil, nil, padded(back, 0, 0, 0, 8),
		line(10, padded(line(6, newCaption("duty", colorQuiet).small().whole(), h.duty), 0, 0, 10, 0), export, report), middle)
	h.object = onGround(colorRaised, padded(row, 6, 6, 8, 12))
	return h
}

func (h *header) show() {
	r, a := h.p.n.Record(), h.p.n.Assessment()
	h.unit.SetText(r.Unit.Says())
	h.owner.SetText(firstOf(r.Owner.Name, "owner not named") + " · received " + day(r.Dates.Received))
	h.outcome.SetText(capital(string(a.Outcome)))
	h.why.SetText(countsSay(a))
	h.duty.Mark(string(r.Duty))
}

func (h *header) setDuty(d term.Duty) {
	says := fmt.Sprintf("duty: %s", dutyWord(d))
	h.p.do("The duty was not changed.", record.Set(says, func(r *record.Record) { r.Duty = d }))
	h.p.f.focus(h.p.viewer.photoView)
	h.p.refreshSoon()
}

// nextDuty goes through the duties.
func (h *header) nextDuty() {
	now := h.p.n.Record().Duty
	for i, d := range term.Duties {
		if d == now {
			h.setDuty(term.Duties[(i+1)%len(term.Duties)])
			return
		}
	}
	h.setDuty(term.Duties[0])
}

// shares divides the width among objects.
type shares []float32

func (s shares) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	x := float32(0)
	for i, o := range objects {
		width := size.Width * s[i]
		o.Move(fyne.NewPos(x, 0))
		o.Resize(fyne.NewSize(width-6, size.Height))
		x += width
	}
}

func (s shares) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var least fyne.Size
	for _, o := range objects {
		m := o.MinSize()
		least = fyne.NewSize(least.Width+m.Width+6, max(least.Height, m.Height))
	}
	return least
}

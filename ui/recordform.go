package ui

import (
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// recordForm asks for what is known of a core as it comes in.
type recordForm struct {
	f *frame

	kind, variant                *drop
	maker, model, serial         *field
	service, owner, contact      *field
	claim, received, hold        *field
	duty                         *choices
	oil, complaint               *note
	kindFault, receivedFault     *caption
	units                        []*spec.Unit
	chosen                       string
	object                       fyne.CanvasObject
	proposedMaker, proposedModel string
}

func dutyChoices() []choice {
	return []choice{
		{ID: string(term.Yard), Label: "yard", Hint: "crawls about a yard"},
		{ID: string(term.Road), Label: "road", Hint: "ordinary road service"},
		{ID: string(term.HardDuty), Label: "hard", Hint: "heavy loads all day"},
	}
}

func newRecordForm(f *frame) *recordForm {
	r := &recordForm{f: f, units: f.bench.Specs().Units()}
	r.kind = newDrop(f, unitNames(r.units), func(string) { r.chose(r.kind.SelectedIndex()) })
	r.kind.PlaceHolder = "choose the unit type"
	r.variant = newDrop(f, nil, nil)
	r.variant.PlaceHolder = "not known"
	r.maker, r.model = newField(f, ""), newField(f, "")
	r.serial, r.service = newField(f, "as stamped on the case"), newField(f, "hours or distance, as told")
	r.owner, r.contact = newField(f, "name"), newField(f, "telephone or e-mail")
	r.claim = newField(f, "if it is a warranty case")
	r.received = newField(f, "2026-05-12")
	r.hold = newField(f, "why nothing may be cleaned yet: adjuster to view")
	r.duty = newChoices(f, dutyChoices(), nil)
	r.duty.Mark(string(term.Road))
	r.oil = newNote(f, "what came out with it, and how it turned", 2)
	r.complaint = newNote(f, "in the customer's own words", 3)
	r.kindFault, r.receivedFault = newCaption("", theme.ColorNameError).small(), newCaption("", theme.ColorNameError).small()
	r.kindFault.Hide()
	r.receivedFault.Hide()
	r.object = r.build()
	return r
}

func unitNames(units []*spec.Unit) []string {
	names := make([]string, len(units))
	for i, u := range units {
		names[i] = u.Name
	}
	return names
}

// chose takes over what the spec says of a unit type.
func (r *recordForm) chose(i int) {
	if i < 0 {
		return
	}
	u := r.units[i]
	r.chosen = u.ID
	fault(r.kindFault, "")
	for _, p := range []struct {
		field    *field
		proposed *string
		now      string
	}{{r.maker, &r.proposedMaker, u.Maker}, {r.model, &r.proposedModel, u.Model}} {
		if p.field.Text == "" || p.field.Text == *p.proposed {
			p.field.SetText(p.now)
			*p.proposed = p.now
		}
	}
	names := []string{"not known"}
	for _, v := range u.Variants {
		names = append(names, v.Name)
	}
	r.variant.SetOptions(names)
	r.variant.ClearSelected()
	if len(u.Variants) == 0 {
		r.variant.Disable()
	} else {
		r.variant.Enable()
	}
}

func (r *recordForm) build() fyne.CanvasObject {
	ask := func(name string, o fyne.CanvasObject, fault ...fyne.CanvasObject) fyne.CanvasObject {
		box := column(1, newCaption(name, colorQuiet).small(), o)
		for _, one := range fault {
			box.Add(one)
		}
		return box
	}
	unit := column(7,
		newHeading("The unit", theme.SizeNameSubHeadingText),
		ask("Unit type", r.kind, r.kindFault),
		container.NewGridWithColumns(2, ask("Maker", r.maker), ask("Model", r.model)),
		container.NewGridWithColumns(2, ask("Serial", r.serial), ask("Variant", r.variant)),
		ask("Service so far", r.service),
		ask("Oil and debris", r.oil.box))
	owner := column(7,
		newHeading("The customer", theme.SizeNameSubHeadingText),
		ask("Owner", r.owner),
		ask("Contact", r.contact),
		container.NewGridWithColumns(2, ask("Claim number", r.claim), ask("Received (year-month-day)", r.received, r.receivedFault)),
		ask("Hold", r.hold),
		ask("Duty it is to serve", r.duty),
		ask("Complaint", r.complaint.box))
	return container.NewGridWithColumns(2, padded(unit, 0, 0, 0, 14), padded(owner, 0, 0, 14, 0))
}

// fill shows a record.
func (r *recordForm) fill(rec *record.Record) {
	u := rec.Unit
	r.chosen = u.Type
	for i, known := range r.units {
		if known.ID == u.Type {
			r.kind.SetSelectedIndex(i)
			for k, v := range known.Variants {
				if v.ID == u.Variant {
					r.variant.SetSelectedIndex(k + 1)
				}
			}
		}
	}
	r.maker.SetText(u.Maker)
	r.model.SetText(u.Model)
	r.serial.SetText(u.Serial)
	r.service.SetText(u.Service)
	r.owner.SetText(rec.Owner.Name)
	r.contact.SetText(rec.Owner.Contact)
	r.claim.SetText(rec.Owner.Claim)
	r.received.SetText(rec.Dates.Received)
	r.hold.SetText(rec.Hold)
	r.duty.Mark(string(rec.Duty))
	r.oil.Set(u.Oil)
	r.complaint.Set(rec.Complaint)
}

// fault shows at a field what is wrong with it, and takes no room for nothing.
func fault(c *caption, text string) {
	c.SetText(text)
	if text == "" {
		c.Hide()
		return
	}
	c.Show()
}

// check says at the fields what is wrong with them.
func (r *recordForm) check() bool {
	fault(r.kindFault, "")
	fault(r.receivedFault, "")
	ok := true
	if r.chosen == "" {
		fault(r.kindFault, "Choose the unit type: it says which parts there are.")
		r.f.focus(r.kind)
		ok = false
	}
	if text := r.received.Text; text != "" {
		if _, err := time.Parse(time.DateOnly, text); err != nil {
			fault(r.receivedFault, "Write the day as 2026-05-12.")
			if ok {
				r.f.focus(r.received)
			}
			ok = false
		}
	}
	return ok
}

// put writes what the form says into a record.
func (r *recordForm) put(rec *record.Record) {
	u := record.Unit{
		Type: r.chosen, Maker: r.maker.Text, Model: r.model.Text, Serial: r.serial.Text,
		Service: r.service.Text, Oil: r.oil.Text(), Variant: rec.Unit.Variant,
	}
	if i := r.variant.SelectedIndex(); i >= 0 {
		u.Variant = ""
		for _, known := range r.units {
			if known.ID == r.chosen && i >= 1 && i <= len(known.Variants) {
				u.Variant = known.Variants[i-1].ID
			}
		}
	}
	rec.Unit = u
	rec.Owner = record.Owner{Name: r.owner.Text, Contact: r.contact.Text, Claim: r.claim.Text}
	rec.Dates.Received = r.received.Text
	rec.Hold = strings.TrimSpace(r.hold.Text)
	rec.Complaint = r.complaint.Text()
	rec.Duty = term.Duty(r.duty.Selected)
}

// formPage shows a form with its head and its buttons.
func formPage(f *frame, title, about string, form *recordForm, do, cancel *button) fyne.CanvasObject {
	head := onGround(colorRaised, padded(newHeading(title, theme.SizeNameHeadingText), 14, 14, 18, 18))
	foot := onGround(colorRaised, padded(line(8, do, cancel), 9, 9, 18, 18))
	body := column(14, quietly(about), form.object)
	scroll := container.NewVScroll(container.New(&narrow{most: 980}, padded(body, 14, 14, 18, 18)))
	return container.NewBorder(head, foot, nil, nil, scroll)
}

// narrow keeps a page from becoming too wide to read.
type narrow struct{ most float32 }

func (n *narrow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	objects[0].Move(fyne.NewPos(0, 0))
	objects[0].Resize(fyne.NewSize(min(size.Width, n.most), size.Height))
}

func (n *narrow) MinSize(objects []fyne.CanvasObject) fyne.Size { return objects[0].MinSize() }

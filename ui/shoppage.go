package ui

import (
	"context"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/inspection"
)

// shopPage is the page of what holds for all records of the archive: whose
// reports they are, who is at the bench, and when wear counts.
type shopPage struct {
	f    *frame
	from place

	name, address, contact *field
	who                    *field
	usable, notHard        *field
	fault                  *paragraph
	page                   fyne.CanvasObject
	// loaded says that the fields show what the archive holds.
	loaded bool
}

func newShopPage(f *frame, from place) *shopPage {
	s := &shopPage{f: f, from: from, fault: newParagraph()}
	s.name, s.address, s.contact = newField(f, "as it heads the reports"), newField(f, ""), newField(f, "telephone, e-mail or web page")
	s.who = newField(f, "name")
	s.who.SetText(f.bench.Who())
	usual := inspection.UsualWear()
	s.usable, s.notHard = newField(f, strconv.Itoa(usual.UsableFrom)), newField(f, strconv.Itoa(usual.NotHardFrom))
	if w := f.bench.Wear(); w != (inspection.Wear{}) {
		s.usable.SetText(strconv.Itoa(w.UsableFrom))
		s.notHard.SetText(strconv.Itoa(w.NotHardFrom))
	}
	for _, one := range []*field{s.name, s.address, s.contact, s.who, s.usable, s.notHard} {
		one.OnSubmitted = func(string) { s.done() }
	}
	s.page = s.build()
	return s
}

func (s *shopPage) build() fyne.CanvasObject {
	head := onGround(colorRaised, padded(newHeading("Shop", theme.SizeNameHeadingText), 14, 14, 18, 18))
	done := newButton(s.f, "Done  (Ctrl+Enter)", nil, s.done).primary()
	if s.f.bench.ReadOnly() {
		done.Disable()
	}
	foot := onGround(colorRaised, padded(line(8, done, newButton(s.f, "Cancel  (Esc)", nil, s.back)), 9, 9, 18, 18))
	body := column(10,
		s.fault,
		newHeading("Reports", theme.SizeNameSubHeadingText),
		quietly("Every report is headed by it."),
		asked("Name of the shop", s.name),
		container.NewGridWithColumns(2, asked("Address", s.address), asked("Contact", s.contact)),
		newHeading("At the bench", theme.SizeNameSubHeadingText),
		quietly("Everything that is entered is noted under this name."),
		asked("Who is at work", s.who),
		newHeading("Wear", theme.SizeNameSubHeadingText),
		quietly("A reading within its limit is not yet sound: part of the allowance is used up. Empty fields stand for what is usual; all records are judged anew."),
		container.NewGridWithColumns(2,
			asked("Usable, no longer sound, from … % of the allowance", s.usable),
			asked("Condemned for hard duty from … % of the allowance", s.notHard)))
	scroll := container.NewVScroll(container.New(&narrow{most: 760}, padded(body, 14, 14, 18, 18)))
	return container.NewBorder(head, foot, nil, nil, scroll)
}

func (s *shopPage) view() fyne.CanvasObject { return s.page }
func (s *shopPage) title() string           { return "Shop" }
func (s *shopPage) dropped([]string) bool   { return false }
func (s *shopPage) back()                   { s.f.show(s.from) }
func (s *shopPage) leave()                  {}

func (s *shopPage) actions() actions {
	return actions{
		{says: "Done", strokes: []stroke{ctrl(fyne.KeyReturn)}, run: s.done, changes: true},
		{says: "Back", strokes: []stroke{plain(fyne.KeyEscape)}},
	}
}

// enter reads what the archive holds.
func (s *shopPage) enter() {
	s.f.focus(s.name)
	beside(s.f, s.f.bench.Shop, func(shop inspection.Shop, err error) {
		if err != nil {
			s.tell("The shop's data could not be read.", err)
			return
		}
		s.loaded = true
		for field, text := range map[*field]string{s.name: shop.Name, s.address: shop.Address, s.contact: shop.Contact} {
			if field.Text == "" {
				field.SetText(text)
			}
		}
	})
}

func (s *shopPage) tell(did string, err error) {
	w := wordsFor(did, err)
	s.fault.Set(piece{Text: w.Title + " ", Bold: true, Color: theme.ColorNameError}, piece{Text: w.Message + " " + w.Hint})
}

// wear reads the shares; both empty stand for the usual ones.
func (s *shopPage) wear() (w inspection.Wear, ok bool) {
	usual := inspection.UsualWear()
	read := func(f *field, otherwise int) int {
		text := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(f.Text), "%"))
		if text == "" {
			return otherwise
		}
		n, err := strconv.Atoi(text)
		if err != nil {
			return -1
		}
		return n
	}
	w = inspection.Wear{UsableFrom: read(s.usable, usual.UsableFrom), NotHardFrom: read(s.notHard, usual.NotHardFrom)}
	if w == usual {
		w = inspection.Wear{}
	}
	if err := w.Check(); err != nil {
		s.tell("Wear:", err)
		s.f.focus(s.usable)
		return w, false
	}
	return w, true
}

func (s *shopPage) done() {
	w, ok := s.wear()
	if !ok || s.f.bench.ReadOnly() {
		return
	}
	shop := inspection.Shop{Name: strings.TrimSpace(s.name.Text), Address: strings.TrimSpace(s.address.Text), Contact: strings.TrimSpace(s.contact.Text)}
	s.f.bench.SetWho(s.who.Text)
	s.f.settings.Who = s.f.bench.Who()
	s.f.keepSettings()
	loaded := s.loaded
	beside(s.f, func(ctx context.Context) (struct{}, error) {
		if !loaded {
			// A field that was never filled empties nothing.
			stored, err := s.f.bench.Shop(ctx)
			if err != nil {
				return struct{}{}, err
			}
			shop.Name, shop.Address, shop.Contact = firstOf(shop.Name, stored.Name), firstOf(shop.Address, stored.Address), firstOf(shop.Contact, stored.Contact)
		}
		if err := s.f.bench.SetShop(ctx, shop); err != nil {
			return struct{}{}, err
		}
		return struct{}{}, s.f.bench.SetWear(ctx, w)
	}, func(_ struct{}, err error) {
		if err != nil {
			s.tell("Not kept.", err)
			return
		}
		if s.f.here == s {
			s.back()
		}
	})
}

func (f *frame) showShop() {
	if _, there := f.here.(*shopPage); !there {
		f.show(newShopPage(f, f.here))
	}
}

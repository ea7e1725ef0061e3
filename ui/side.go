package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
)

// sheet is a page that lies over the surfaces of the part for a while: a finding
// being entered, photos being chosen, a report being ordered.
type sheet interface {
	object() fyne.CanvasObject
	// refreshed is called after every change of the record.
	refreshed()
	// closed is called when the sheet is taken away.
	closed()
	// submit is what Ctrl+Enter does.
	submit()
}

// side is the right side of the inspection: the surfaces of the chosen part, or
// a sheet over them.
type side struct {
	p        *inspectionPlace
	surfaces *surfacePane
	sheet    sheet
	object   *fyne.Container
}

func newSide(p *inspectionPlace) *side {
	s := &side{p: p, surfaces: newSurfacePane(p)}
	s.object = container.NewStack(s.surfaces.object)
	return s
}

func (s *side) open() bool { return s.sheet != nil }

// put lays a sheet over the surfaces.
func (s *side) put(sh sheet) {
	if s.sheet != nil {
		s.sheet.closed()
	}
	s.sheet = sh
	s.object.Objects = []fyne.CanvasObject{sh.object()}
	s.p.makeRoom()
}

// close takes the sheet away and gives the keys back to the photo.
func (s *side) close() {
	if s.sheet == nil {
		return
	}
	s.sheet.closed()
	s.sheet = nil
	s.object.Objects = []fyne.CanvasObject{s.surfaces.object}
	s.p.makeRoom()
	s.surfaces.show()
	s.p.f.focus(s.p.viewer.photoView)
}

// leave takes the sheet away, or goes back to the one from which it was opened.
func (s *side) leave() {
	if over, ok := s.sheet.(interface{ back() bool }); !ok || !over.back() {
		s.close()
	}
}

func (s *side) show() {
	s.surfaces.show()
	if s.sheet != nil {
		s.sheet.refreshed()
	}
}

// partChanged closes what was about the part before.
func (s *side) partChanged() {
	s.surfaces.scroll.ScrollToTop()
	if about, ok := s.sheet.(interface{ aboutPart() bool }); ok && about.aboutPart() {
		s.close()
	}
}

// sheetPage lays a sheet out: title, body that scrolls, a foot and buttons that
// stay. The foot may be nil.
func sheetPage(f *frame, title string, cancel func(), body, foot fyne.CanvasObject, buttons ...fyne.CanvasObject) fyne.CanvasObject {
	return sheetUnder(sheetHead(f, title, nil, cancel), body, foot, buttons...)
}

// sheetHead is the title of a sheet, with something of its own behind it, and the
// cross that closes it.
func sheetHead(f *frame, title string, behind fyne.CanvasObject, cancel func()) fyne.CanvasObject {
	cross := newButton(f, "", theme.CancelIcon(), cancel).low()
	heading := newHeading(title, theme.SizeNameSubHeadingText)
	if behind == nil {
		return container.NewBorder(nil, nil, nil, cross, heading)
	}
	return container.NewBorder(nil, nil, padded(heading.whole(), 0, 0, 0, 8), cross, behind)
}

func sheetUnder(head, body, foot fyne.CanvasObject, buttons ...fyne.CanvasObject) fyne.CanvasObject {
	below := column(6)
	if foot != nil {
		below.Add(foot)
	}
	below.Add(line(6, buttons...))
	return container.NewBorder(padded(head, 0, 4, 0, 0), padded(below, 8, 0, 0, 0), nil, nil,
		container.NewVScroll(padded(body, 0, 0, 0, 8)))
}

// asked is a control with its name above it.
func asked(name string, o fyne.CanvasObject) fyne.CanvasObject {
	return column(1, newCaption(name, colorQuiet).small(), o)
}

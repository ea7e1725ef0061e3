package ui

import (
	"slices"
	"sync/atomic"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
)

// inspectionPlace is the place where one record is worked on. What is chosen
// (part, surface, photo, entry) is its own; all else it reads from the
// inspection after every change.
type inspectionPlace struct {
	f    *frame
	from *register
	n    *inspection.Inspection

	part    record.ID
	surface string
	// entry is the chosen finding, reading, trial fit or verdict of the surface.
	entry    record.ID
	measured measuredOnPhotos
	// revealed is the part that the row of parts was last moved to.
	revealed record.ID
	// surfaces remembers which surface was chosen of each part.
	surfaces map[record.ID]string

	head    *header
	tiles   *tiles
	lane    *container.Scroll
	parts   fyne.CanvasObject // the row of parts with what sets it off
	viewer  *viewer
	side    *side
	status  *statusBar
	notices *noticeBoard
	work    *workBar
	phone   *phoneFolder
	closely *closeLooks
	page    fyne.CanvasObject
	// large is whether the photo has the room of all that it can do without.
	large bool

	stop    func()
	pending atomic.Bool
}

func newInspectionPlace(f *frame, from *register, n *inspection.Inspection) *inspectionPlace {
	p := &inspectionPlace{f: f, from: from, n: n, surfaces: map[record.ID]string{}}
	if !slices.Contains(f.opened, n) {
		f.opened = append(f.opened, n)
	}
	p.notices = newNoticeBoard(f)
	p.work = newWorkBar(p)
	p.phone = &phoneFolder{p: p}
	p.closely = &closeLooks{p: p}
	p.head = newHeader(p)
	p.tiles = newTiles(f)
	p.tiles.OnSelected = func(id string) { p.choosePart(record.ID(id)) }
	p.tiles.OnEnter = func() { f.focus(p.viewer.photoView) }
	p.lane = container.NewHScroll(padded(p.tiles, 0, 9, 0, 0))
	p.viewer = newViewer(p)
	p.side = newSide(p)
	p.status = newStatusBar(p)
	p.tiles.OnTyped = p.status.typed
	p.page = p.build()
	return p
}

func (p *inspectionPlace) build() fyne.CanvasObject {
	lane := onGround(colorRaised, padded(p.lane, 8, 1, 12, 12))
	p.parts = container.NewVBox(lane, widget.NewSeparator())
	top := container.NewVBox(p.head.object, widget.NewSeparator(), p.parts, p.notices.box, p.work.object)
	bottom := container.NewVBox(widget.NewSeparator(), p.status.object)
	body := container.New(pageSplit{gap: 12}, p.viewer.object, p.side.object)
	page := container.NewBorder(top, bottom, nil, nil, padded(body, 4, 4, 12, 12))
	return container.NewStack(page, p.viewer.drag.layer)
}

func (p *inspectionPlace) view() fyne.CanvasObject { return p.page }

// title tells the chosen part, its grade and whether all is saved.
func (p *inspectionPlace) title() string {
	saved := "saved"
	switch s := p.n.Status(); {
	case s.Err != nil && s.Unsaved > 0:
		saved = "NOT SAVED"
	case s.Unsaved > 0:
		saved = "saving"
	}
	part, ok := p.n.Assessment().Part(p.part)
	if !ok {
		return p.n.Record().Unit.Says() + " · " + saved
	}
	return part.Name + " · " + part.Grade + " · " + saved
}

func (p *inspectionPlace) enter() {
	p.stop = p.n.Watch(p.refreshSoon)
	p.refresh()
	p.f.focus(p.viewer.photoView)
	p.phone.follow()
	p.closely.cutAll()
}

func (p *inspectionPlace) leave() {
	p.phone.leave()
	p.closely.leave()
	if p.stop != nil {
		p.stop()
		p.stop = nil
	}
}

// back is Escape: it closes what stands over the surfaces, then, one after the other,
// what was told, picked or opened about the photo.
func (p *inspectionPlace) back() {
	v := p.viewer
	switch {
	case p.side.open():
		p.side.leave()
	case p.notices.takeLast(), v.unpick():
	case v.light.object.Visible() && p.f.window.Canvas().Focused() != fyne.Focusable(v.photoView):
		p.f.focus(v.photoView) // to work on it in that light
	case v.light.object.Visible():
		v.light.leave()
	case v.beside.open:
		v.beside.toggle()
	default:
		p.setLarge(false)
	}
}

// toRegister leaves the record. What is not saved yet is saved on the way.
func (p *inspectionPlace) toRegister() {
	if s := p.n.Status(); s.Err != nil && s.Unsaved > 0 {
		p.status.tellUnsaved(s)
		return
	}
	p.f.show(p.from)
}

// refreshSoon may be called from anywhere, and often: one refresh follows.
func (p *inspectionPlace) refreshSoon() {
	if p.pending.Swap(true) {
		return
	}
	p.f.later(func() {
		p.pending.Store(false)
		if p.f.here == p {
			p.refresh()
		}
	})
}

// refresh shows the record as it stands.
func (p *inspectionPlace) refresh() {
	p.settle()
	p.head.show()
	p.showTiles()
	p.viewer.show()
	p.side.show()
	p.status.show()
	p.showHold()
	p.f.retitle()
}

// showHold says at the top that nothing may be cleaned or taken further.
func (p *inspectionPlace) showHold() {
	why := p.n.Record().Hold
	if why == "" {
		p.notices.take("hold")
		return
	}
	n := notice{ID: "hold", Warns: true, Stays: true, words: words{
		Title: "On hold: " + sentence(why), Message: "Nothing is cleaned or taken further until it is released."}}
	if p.editable() {
		n.Do, n.Doing = "Release", func() {
			p.tried("The record was not released.", p.n.Hold(""))
			p.refreshSoon()
		}
	}
	p.notices.put(n)
}

// settle makes sure that what is chosen is there: undo may have taken it away.
func (p *inspectionPlace) settle() {
	a, r := p.n.Assessment(), p.n.Record()
	part, ok := a.Part(p.part)
	if !ok {
		if len(a.Parts) == 0 {
			p.part, p.surface, p.entry = "", "", ""
			return
		}
		part = &a.Parts[0]
		p.part, p.surface = part.ID, p.surfaces[part.ID]
	}
	if _, ok := part.Surface(p.surface); !ok {
		p.surface = telling(part)
	}
	if !p.holds(r, p.entry) {
		p.entry = ""
	}
}

// telling is the surface to begin with: the first of the hardest verdict.
func telling(part *inspection.Part) string {
	if len(part.Surfaces) == 0 {
		return ""
	}
	worst := &part.Surfaces[0]
	for i := range part.Surfaces {
		if part.Surfaces[i].Verdict.Worse(worst.Verdict) {
			worst = &part.Surfaces[i]
		}
	}
	return worst.ID
}

// tallWindow is from which height the parts in the row are drawn.
const tallWindow = 900

func (p *inspectionPlace) showTiles() {
	a := p.n.Assessment()
	items := make([]tileItem, len(a.Parts))
	for i := range a.Parts {
		part := &a.Parts[i]
		items[i] = tileItem{ID: string(part.ID), Name: part.Name, Grade: part.Grade, Verdict: part.Verdict, Apart: part.Consumable}
	}
	draws := p.tiles.Draw != nil
	p.tiles.Draw = nil
	if p.f.window.Canvas().Size().Height >= tallWindow {
		p.tiles.Draw = p.drawTile
	}
	if !slices.Equal(items, p.tiles.Items) || draws != (p.tiles.Draw != nil) {
		p.tiles.SetItems(items)
		p.lane.Refresh()
	}
	p.tiles.Mark(string(p.part))
	// Not after every change: photos may be on their way to a part further along.
	if p.revealed != p.part && p.lane.Size().Width > 0 {
		p.revealed = p.part
		reveal(p.lane, p.tiles.Span)
	}
}

// reveal scrolls a lane so that a span of it is in sight.
func reveal(lane *container.Scroll, span func() (from, to float32)) {
	from, to := span()
	width := lane.Size().Width
	offset := lane.Offset
	const margin = 40
	switch {
	case width <= 0:
		return
	case from-margin < offset.X:
		offset.X = max(from-margin, 0)
	case to+margin > offset.X+width:
		offset.X = min(to+margin-width, max(lane.Content.MinSize().Width-width, 0))
	}
	if offset != lane.Offset {
		lane.ScrollToOffset(offset)
		if lane.OnScrolled != nil { // Fyne calls it only where a person scrolls
			lane.OnScrolled(offset)
		}
	}
}

// choosePart goes to a part.
func (p *inspectionPlace) choosePart(id record.ID) {
	if id == p.part {
		return
	}
	p.part, p.surface, p.entry = id, p.surfaces[id], ""
	p.viewer.partChanged()
	p.side.partChanged()
	p.refresh()
}

// chooseSurface goes to a surface of the chosen part.
func (p *inspectionPlace) chooseSurface(id string) {
	if id == p.surface {
		return
	}
	p.surface, p.entry = id, ""
	p.surfaces[p.part] = id
	p.refresh()
}

// holds reports whether an entry is there and speaks of what is chosen.
func (p *inspectionPlace) holds(r *record.Record, id record.ID) bool {
	if f, ok := r.Findings[id]; ok {
		return f.Part == p.part && f.Surface == p.surface
	}
	if m, ok := r.Readings[id]; ok {
		return m.Part == p.part && m.Surface == p.surface
	}
	if l, ok := r.Limits[id]; ok {
		return l.Part == p.part && l.Surface == p.surface
	}
	if w, ok := r.Workings[id]; ok {
		return w.Part == p.part && (w.Surface == p.surface || w.Surface == "")
	}
	if f, ok := r.TrialFits[id]; ok {
		return p.side.surfaces.touches(f)
	}
	o, ok := r.Overrides[id]
	return ok && o.Part == p.part && (o.Surface == p.surface || o.Surface == "")
}

// knownSurface is what the specs say of a surface, nil where none does.
func (p *inspectionPlace) knownSurface(part record.ID, surface string) *spec.Surface {
	kind, ok := p.f.bench.Specs().Kind(p.n.Record().Parts[part].Kind)
	if !ok {
		return nil
	}
	known, _, _ := kind.Surface(surface)
	return known
}

// chooseEntry goes to an entry of the chosen part, or to a finding wherever it is.
func (p *inspectionPlace) chooseEntry(id record.ID) {
	if _, ok := p.n.Record().Findings[id]; ok {
		p.chooseFinding(id)
		return
	}
	p.entry = id
	p.refresh()
}

// chooseFinding goes to a finding, wherever it is.
func (p *inspectionPlace) chooseFinding(id record.ID) {
	f, ok := p.n.Record().Findings[id]
	if !ok {
		return
	}
	if f.Part != p.part {
		p.choosePart(f.Part)
	}
	p.surface, p.entry, p.viewer.led = f.Surface, id, ""
	p.surfaces[p.part] = f.Surface
	p.refresh()
}

// tried tells of a change that could not be made, and reports whether it was.
func (p *inspectionPlace) tried(did string, err error) bool {
	if err != nil {
		p.notices.put(notice{ID: "change", Warns: true, words: wordsFor(did, err)})
		return false
	}
	p.notices.take("change")
	return true
}

// do makes a gesture, and says so if it can't be made.
func (p *inspectionPlace) do(did string, g record.Gesture) bool { return p.tried(did, p.n.Do(g)) }

// editable reports whether anything can be changed here.
func (p *inspectionPlace) editable() bool { return !p.f.bench.ReadOnly() }

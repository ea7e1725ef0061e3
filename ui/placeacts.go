package ui

import (
	"slices"

	"fyne.io/fyne/v2"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// actions are all that the keyboard does in the inspection. Those without run are
// done by the photo itself.
func (p *inspectionPlace) actions() actions {
	v := p.viewer
	return append(actions{
		{says: "Back to the register", strokes: []stroke{ctrl(fyne.KeyR), alt(fyne.KeyUp)}, run: p.toRegister},
		{says: "Find a part by typing its name", strokes: []stroke{ctrl(fyne.KeyF), letter('/')}, run: func() { p.among(p.tiles) }},
		{says: "Part before", strokes: []stroke{letter('['), alt(fyne.KeyLeft)}, run: func() { p.tiles.Walk(-1) }},
		{says: "Part after", strokes: []stroke{letter(']'), alt(fyne.KeyRight)}, run: func() { p.tiles.Walk(1) }},
		{says: "Surface above", strokes: []stroke{letter('{'), ctrl(fyne.KeyUp)}, run: func() { p.side.surfaces.list.Walk(-1) }},
		{says: "Surface below", strokes: []stroke{letter('}'), ctrl(fyne.KeyDown)}, run: func() { p.side.surfaces.list.Walk(1) }},
		{says: "Surface by its number", strokes: []stroke{{key: "Ctrl+1 to 9"}}},
		{says: "Photo before", strokes: []stroke{letter(','), plain(fyne.KeyPageUp)}, run: func() { v.walk(-1) }},
		{says: "Photo after", strokes: []stroke{letter('.'), plain(fyne.KeyPageDown)}, run: func() { v.walk(1) }},
		{says: "Whole part looked at, felt: sound", strokes: []stroke{letter('w')}, run: p.wholePart, changes: true},
		{says: "Surface looked at", strokes: []stroke{letter('l')}, run: func() { p.toggleLooked(func(l *record.Looked) { l.Eye = !l.Eye }) }, changes: true},
		{says: "Surface felt", strokes: []stroke{letter('t')}, run: func() { p.toggleLooked(func(l *record.Looked) { l.Touch = !l.Touch }) }, changes: true},
		{says: "Surface clean", strokes: []stroke{letter('b')}, run: func() { p.toggleLooked(func(l *record.Looked) { l.Clean = !l.Clean }) }, changes: true},
		{says: "New finding on the surface", strokes: []stroke{letter('f')}, run: func() { p.showFinding("") }, changes: true},
		{says: "Reading of the surface", strokes: []stroke{letter('g')}, run: func() { p.showReading("") }, changes: true},
		{says: "Wear limit out of the manual", strokes: []stroke{alt(fyne.KeyL)}, run: p.showLimit, changes: true},
		{says: "Trial fit of the part", strokes: []stroke{letter('y')}, run: func() { p.showFit("") }, changes: true},
		{says: "Judge otherwise than the rules", strokes: []stroke{letter('j')}, run: func() { p.showJudge("") }, changes: true},
		{says: "Next entry of the surface", strokes: []stroke{letter('n')}, run: p.nextEntry},
		{says: "Edit the entry", strokes: []stroke{letter('e')}, run: func() { p.editEntry(p.entry) }, changes: true},
		{says: "Withdraw the entry", strokes: []stroke{letter('x')}, run: p.showWithdraw, changes: true},
		{says: "Next part to be inspected", strokes: []stroke{letter('i')}, run: p.nextToInspect},
		{says: "The core: outcome, next, causes", strokes: []stroke{ctrl(fyne.KeyI)}, run: p.showCore},
		{says: "Undo", strokes: []stroke{ctrl(fyne.KeyZ)}, run: func() {
			if !v.photoView.TakeBack() {
				p.undo()
			}
		}, changes: true},
		{says: "Redo", strokes: []stroke{ctrlShift(fyne.KeyZ), ctrl(fyne.KeyY)}, run: p.redo, changes: true},
		{says: "Attach photos", strokes: []stroke{ctrl(fyne.KeyO)}, run: p.showAttach, changes: true},
		{says: "What a warranty claim wants", strokes: []stroke{ctrl(fyne.KeyW)}, run: p.showClaim},
		{says: "Report", strokes: []stroke{ctrl(fyne.KeyP)}, run: p.showReport},
		{says: "Export photos, outlines, tables", strokes: []stroke{ctrl(fyne.KeyE)}, run: p.showExport},
		{says: "Unit, customer, complaint", strokes: []stroke{ctrl(fyne.KeyD)}, run: p.showDetails},
		{says: "Part: state, tray, note", strokes: []stroke{letter('u')}, run: p.showPart},
		{says: "Next duty", strokes: []stroke{letter('d')}, run: p.head.nextDuty, changes: true},
		{says: "Photos: this part, all, unassigned", strokes: []stroke{letter('a')}, run: v.nextScope},
		{says: "To the unassigned photos", strokes: []stroke{letter('9')}, run: func() { v.setScope(unassigned) }},
		{says: "Assign the photos: type the part", strokes: []stroke{letter('p')}, run: p.showAssign, changes: true},
		{says: "Pick the photo before as well", strokes: []stroke{letter('<')}, run: func() { v.strip.Extend(-1) }},
		{says: "Pick the photo after as well", strokes: []stroke{letter('>')}, run: func() { v.strip.Extend(1) }},
		{says: "Pick all photos of the strip", strokes: []stroke{ctrl(fyne.KeyA)}, run: v.strip.PickAll},
		{says: "To the strip of photos", strokes: []stroke{plain(fyne.KeyF6)}, run: func() { p.among(v.strip) }},
		{says: "The photo shows this part, or not", strokes: []stroke{letter('m')}, run: v.toggleSubject, changes: true},
		{says: "Next stage of the photos", strokes: []stroke{letter('s')}, run: v.nextStage, changes: true},
		{says: "Stage: as found … installed", strokes: []stroke{{key: "Alt+1 to 4"}}},
		{says: "Leave the photo out of the report", strokes: []stroke{letter('8')}, run: v.toggleLeftOut, changes: true},
		{says: "Turn the photo", strokes: []stroke{letter('r')}, run: func() { v.turn(90) }, changes: true},
		{says: "Take the photo out of the record", strokes: []stroke{ctrl(fyne.KeyDelete)}, run: v.removePhoto, changes: true},
		{says: "Point: select, move, reshape", strokes: []stroke{letter('v')}, run: func() { v.take(PointTool) }},
		{says: "Outline corner by corner", strokes: []stroke{letter('c')}, run: func() { v.take(CornersTool) }, changes: true},
		{says: "Outline freehand", strokes: []stroke{letter('z')}, run: func() { v.take(PencilTool) }, changes: true},
		{says: "Outline an oval", strokes: []stroke{letter('o')}, run: func() { v.take(OvalTool) }, changes: true},
		{says: "Outline a box", strokes: []stroke{letter('q')}, run: func() { v.take(BoxTool) }, changes: true},
		{says: "Mark a spot", strokes: []stroke{letter('7')}, run: func() { v.take(SpotTool) }, changes: true},
		{says: "Line: measure, or a known length", strokes: []stroke{letter('h')}, run: func() { v.take(LineTool) }, changes: true},
		{says: "Card by its edges, for the scale", strokes: []stroke{letter(';')}, run: func() { v.take(EdgesTool) }, changes: true},
		{says: "Size of the outline; how it lies", strokes: []stroke{alt(fyne.KeyS)}, run: func() { p.showSize(v.sizable()) }},
		{says: "Draw the outline once more", strokes: []stroke{alt(fyne.KeyD)}, run: func() { v.drawAgain(v.sizable()) }, changes: true},
		{says: "Copy the outline", strokes: []stroke{ctrl(fyne.KeyC)}, run: v.copyOutline},
		{says: "Paste an outline or photos' paths", strokes: []stroke{ctrl(fyne.KeyV)}, run: v.paste, changes: true},
		{says: "Add a corner to the outline", strokes: []stroke{ctrl(fyne.KeyK), plain(fyne.KeyInsert)}, run: func() { v.photoView.AddCorner() }, changes: true},
		{says: "Delete the corner", strokes: []stroke{plain(fyne.KeyBackspace)}},
		{says: "Finish the outline; to its sheet", strokes: []stroke{plain(fyne.KeyReturn)}},
		{says: "Set a corner; next outline", strokes: []stroke{{key: fyne.KeySpace}}},
		{says: "Next corner of the outline", strokes: []stroke{letter('k')}},
		{says: "Remove the outline", strokes: []stroke{plain(fyne.KeyDelete)}},
		{says: "Move the photo or the outline", strokes: []stroke{{key: "← → ↑ ↓"}}},
		{says: "Magnify, reduce", strokes: []stroke{{key: "+ and -"}}},
		{says: "Magnifier; hold it or tap it", strokes: []stroke{letter('3')}},
		{says: "Two photos side by side", strokes: []stroke{letter('2')}, run: v.beside.toggle},
		{says: "Brightness, contrast; as taken", strokes: []stroke{letter('4')}, run: v.light.toggle},
		{says: "Two photos move as one, or not", strokes: []stroke{letter('5')}, run: v.beside.toggleLink},
		{says: "Photo large, or among all else", strokes: []stroke{letter('6')}, run: func() { p.setLarge(!p.large) }},
		{says: "Whole photo, pixel for pixel", strokes: []stroke{{key: "0 and 1"}}},
		{says: "Finish what is being entered", strokes: []stroke{ctrl(fyne.KeyReturn)}, run: p.submit},
		{says: "Leave what is open", strokes: []stroke{plain(fyne.KeyEscape)}},
	}, append(p.surfaceStrokes(), v.stageStrokes()...)...)
}

// stageStrokes say by one stroke when in the work photos were taken.
func (v *viewer) stageStrokes() actions {
	var as actions
	keys := []fyne.KeyName{fyne.Key1, fyne.Key2, fyne.Key3, fyne.Key4}
	for i, stage := range term.Stages {
		word := term.Plain(stage)
		as = append(as, action{says: "Stage: " + word, strokes: []stroke{alt(keys[i])}, run: func() { v.setStage(word) }, changes: true, unlisted: true})
	}
	return as
}

// surfaceStrokes choose a surface by the number that it has on the drawing.
func (p *inspectionPlace) surfaceStrokes() actions {
	var as actions
	for i, key := range []fyne.KeyName{fyne.Key1, fyne.Key2, fyne.Key3, fyne.Key4, fyne.Key5, fyne.Key6, fyne.Key7, fyne.Key8, fyne.Key9} {
		as = append(as, action{says: "Surface " + string(key), strokes: []stroke{ctrl(key)}, run: func() { p.chooseNumbered(i + 1) }, unlisted: true})
	}
	return as
}

// chooseNumbered goes to the surface of a number, and has a finding that is being
// entered go along.
func (p *inspectionPlace) chooseNumbered(number int) {
	part, ok := p.n.Assessment().Part(p.part)
	if !ok {
		return
	}
	for i := range part.Surfaces {
		if part.Surfaces[i].Number != number {
			continue
		}
		if s, open := p.side.sheet.(*findingSheet); open {
			s.surface.SetSelectedIndex(i)
			return
		}
		p.chooseSurface(part.Surfaces[i].ID)
	}
}

func (p *inspectionPlace) submit() {
	if p.side.sheet != nil {
		p.side.sheet.submit()
	}
}

// wholePart is the one stroke for a part without a fault.
func (p *inspectionPlace) wholePart() {
	if p.part == "" || !p.editable() {
		return
	}
	p.tried("The part was not noted as looked at and felt.", p.n.WholePartSound(p.part))
	p.refreshSoon()
}

// toggleLooked changes how the chosen surface was inspected.
func (p *inspectionPlace) toggleLooked(change func(*record.Looked)) {
	part, ok := p.n.Record().Parts[p.part]
	if !ok || p.surface == "" || !p.editable() {
		return
	}
	looked := part.Surfaces[p.surface]
	change(&looked)
	p.tried("It was not noted.", p.n.Look(p.part, p.surface, looked))
	p.refreshSoon()
}

// nextEntry goes through what was entered on the chosen surface.
func (p *inspectionPlace) nextEntry() {
	items := p.side.surfaces.entriesOf(p.n.Record())
	if len(items) == 0 {
		return
	}
	at := slices.IndexFunc(items, func(x rowItem) bool { return x.ID == string(p.entry) })
	p.chooseEntry(record.ID(items[(at+1)%len(items)].ID))
}

// nextToInspect goes to the part whose inspection saves most work, or to the one
// after it in that order.
func (p *inspectionPlace) nextToInspect() {
	next := p.n.Assessment().Next
	if len(next) > 0 {
		p.choosePart(next[(slices.Index(next, p.part)+1)%len(next)])
	}
}

// editEntry opens an entry that is there and was not withdrawn.
func (p *inspectionPlace) editEntry(id record.ID) {
	r := p.n.Record()
	if _, withdrawn, ok := p.aboutEntry(r, id); !ok || withdrawn || !p.editable() {
		return
	}
	if _, ok := r.Findings[id]; ok {
		p.editFinding(id)
	} else if _, ok := r.Readings[id]; ok {
		p.showReading(id)
	} else if _, ok := r.Limits[id]; ok {
		p.editLimit(id)
	} else if _, ok := r.Workings[id]; ok {
		p.showWorking(id)
	} else if _, ok := r.TrialFits[id]; ok {
		p.showFit(id)
	} else if _, ok := r.Overrides[id]; ok {
		p.showJudge(id)
	}
}

// showFinding asks for a new finding on the chosen surface. An outline that was
// just drawn joins it.
func (p *inspectionPlace) showFinding(outline record.ID) {
	if p.part == "" || p.surface == "" || !p.editable() {
		return
	}
	if outline == "" {
		if o, ok := p.n.Record().Outlines[p.viewer.photoView.Selected()]; ok && mayShowDamage(o) {
			outline = p.viewer.photoView.Selected()
		}
	}
	s := newFindingSheet(p, "", record.Finding{Part: p.part, Surface: p.surface}, outline)
	p.side.put(s)
	s.begin()
}

// editFinding opens a finding that is there.
func (p *inspectionPlace) editFinding(id record.ID) {
	s := newFindingSheet(p, id, p.n.Record().Findings[id], "")
	p.side.put(s)
	s.begin()
}

// nextScope goes from this part's photos to all, to those of no part, to those left
// out of the report if there are any.
func (v *viewer) nextScope() {
	scopes := v.scopes.Options
	at := slices.IndexFunc(scopes, func(c choice) bool { return c.ID == string(v.scope) })
	v.setScope(scope(scopes[(at+1)%len(scopes)].ID))
}

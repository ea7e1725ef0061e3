package ui

import (
	"fmt"
	"image"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// scope says which photos the strip shows.
type scope string

const (
	ofPart     scope = "part"
	ofAll      scope = "all"
	unassigned scope = "unassigned"
	leftOut    scope = "left out"
)

// viewer is the left side: the photo, as large as it goes, the tools above it and
// the strip of photos below.
type viewer struct {
	p *inspectionPlace

	photoView *PhotoView
	tools     *choices
	stage     *drop
	shows     *button
	caption   *caption
	lit       *caption // says in which light the photo is looked at
	chip      *fyne.Container
	over      *fyne.Container // the chip and the buttons, over the photo
	scopes    *choices
	watched   *caption
	claim     *button
	strip     *thumbs
	drag      *photoDrag
	light     *lightBar
	beside    *secondPhoto
	lane      *container.Scroll
	hint      *fyne.Container
	// mat holds the photo; pair that, or two of them.
	mat, pair *fyne.Container
	below     fyne.CanvasObject // the strip with what stands above it
	object    fyne.CanvasObject

	copied copiedOutline
	// errand is what the next outline is for, if not for damage.
	errand errand
	// newStage is that of photos which are taken in.
	newStage term.Stage
	// newLoose is whether they show no part yet, rather than the chosen one.
	newLoose bool
	scope    scope
	// shown is the photo in the large view; key tells whether its picture changed.
	shown record.ID
	key   pictureKey
	// led is the entry whose outline was selected when it was chosen.
	led record.ID
	// asked are the small pictures that are on their way; drawing is whether the
	// strip is to be drawn for some that came.
	asked   map[pictureKey]bool
	drawing bool
	// perPart remembers which photo was looked at of each part.
	perPart map[record.ID]record.ID
}

func stageWords() []string {
	words := make([]string, len(term.Stages))
	for i, s := range term.Stages {
		words[i] = term.Plain(s)
	}
	return words
}

func stageOf(word string) term.Stage {
	for _, s := range term.Stages {
		if term.Plain(s) == word {
			return s
		}
	}
	return ""
}

func newViewer(p *inspectionPlace) *viewer {
	v := &viewer{p: p, scope: ofPart, newStage: term.AsFound, perPart: map[record.ID]record.ID{}, asked: map[pictureKey]bool{}}
	v.photoView = NewPhotoView()
	v.photoView.OnDrawn = v.drawn
	v.photoView.OnReshaped = v.reshaped
	v.photoView.OnSelected = v.selected
	v.photoView.OnRemove = v.remove
	v.photoView.OnTool = v.toolChanged
	v.photoView.OnKey = func(name fyne.KeyName, r rune) bool {
		switch {
		case r != 0:
			return p.f.typedRune(r)
		case (name == fyne.KeyReturn || name == fyne.KeyEnter) && v.intoSheet():
			return true
		}
		return p.f.typedKey(name)
	}
	v.tools = newChoices(p.f, toolOptions(), v.choseTool)
	v.tools.Small = true
	v.showTool()
	v.stage = newDrop(p.f, stageWords(), v.setStage)
	v.shows = newButton(p.f, "", theme.CheckButtonIcon(), v.toggleSubject).low()
	v.caption = newCaption("", theme.ColorNameForeground).small()
	v.lit = newCaption("", theme.ColorNameForeground).small().bold()
	v.chip = column(0, v.lit, v.caption)
	v.scopes = newChoices(p.f, nil, func(id string) { v.setScope(scope(id)) })
	v.scopes.Small = true
	v.scopes.Mark(string(ofPart))
	v.photoView.SetDisabled(!p.editable())
	v.tools.SetDisabled(!p.editable())
	v.strip = newThumbs(p.f)
	v.strip.OnSelected = func(id string) { v.choose(record.ID(id)) }
	v.strip.OnEnter = func() { p.f.focus(v.photoView) }
	v.strip.Picture = v.thumb
	v.drag = newPhotoDrag(p)
	v.strip.OnDragged, v.strip.OnDropped, v.strip.OnLeft = v.drag.move, v.drag.drop, v.drag.end
	v.strip.OnPicked = v.showPicked
	v.lane = container.NewHScroll(v.strip)
	v.strip.Sight = v.inSight
	v.lane.OnScrolled = func(fyne.Position) { v.drawStripSoon() }
	v.claim = newButton(p.f, "", nil, p.showClaim).low()
	v.watched = newCaption("", colorQuiet).small().toEnd()
	v.hint = container.NewStack()
	v.beside = newSecondPhoto(v)
	v.light = newLightBar(v)
	v.object = v.build()
	return v
}

func (v *viewer) build() fyne.CanvasObject {
	f := v.p.f
	act := func(text string, icon fyne.Resource, run func()) *button {
		return newButton(f, text, icon, func() { run(); f.focus(v.photoView) }).low()
	}
	fit := act("", theme.ZoomFitIcon(), v.photoView.Fit)
	whole := act("1:1", nil, v.photoView.Actual)
	leave := act("", theme.VisibilityOffIcon(), v.toggleLeftOut)
	turn := act("", theme.ViewRefreshIcon(), func() { v.turn(90) })
	lens := act("", theme.SearchIcon(), func() { v.photoView.SetLens(!v.photoView.Lens()) })
	two := newButton(f, "", theme.GridIcon(), v.beside.toggle).low()
	light := newButton(f, "", theme.ColorChromaticIcon(), v.light.toggle).low()
	large := newButton(f, "", theme.ViewFullScreenIcon(), func() { v.p.setLarge(!v.p.large) }).low()
	tools := container.New(&givingWay{gap: 4}, v.tools, line(2, v.shows, v.stage))
	attach := newButton(f, "Attach photos …", theme.ContentAddIcon(), v.p.showAttach)
	if !v.p.editable() {
		for _, d := range []fyne.Disableable{attach, v.stage, v.shows, turn, leave} {
			d.Disable()
		}
	}
	below := container.NewBorder(nil, nil, v.scopes, line(4, v.claim, attach), padded(v.watched, 0, 0, 8, 8))
	v.below = padded(column(5, below, v.lane), 6, 0, 0, 0)
	v.over = overPhoto(v.chip, fit, whole, turn, leave, lens, two, light, large)
	v.mat = container.NewStack(newGround(colorMat), v.photoView, v.hint, v.over)
	v.pair = container.NewStack(v.mat)
	above := column(4, tools, v.light.object, v.beside.bar)
	return container.NewBorder(padded(above, 0, 6, 0, 0), v.below, nil, nil, v.pair)
}

// spread lays the two photos side by side, or the one alone.
func (v *viewer) spread() {
	v.pair.Objects = []fyne.CanvasObject{v.mat}
	if v.beside.open {
		v.pair.Objects = []fyne.CanvasObject{container.NewGridWithColumns(2, v.mat, v.beside.frame)}
	}
	v.pair.Refresh()
}

// record returns the photo that is shown.
func (v *viewer) record() (record.Photo, bool) {
	p, ok := v.p.n.Record().Photos[v.shown]
	return p, ok
}

// list returns the photos of a scope in the order in which they were taken. Those
// without a time come last, in the order in which they were taken in.
func (v *viewer) list(s scope) []record.ID {
	r := v.p.n.Record()
	var ids []record.ID
	for id, p := range record.InOrder(r.Photos) {
		if s == ofAll || (s == unassigned && len(p.Subjects) == 0) || (s == ofPart && shows(p, v.p.part)) || (s == leftOut && p.LeftOut != "") {
			ids = append(ids, id)
		}
	}
	return v.p.n.ByTaken(ids)
}

func shows(p record.Photo, part record.ID) bool {
	return slices.ContainsFunc(p.Subjects, func(s record.Subject) bool { return s.Part == part })
}

// partChanged goes to a photo of the part that was chosen.
func (v *viewer) partChanged() {
	v.scope = ofPart
	v.scopes.Mark(string(ofPart))
	v.shown = v.perPart[v.p.part]
	v.photoView.SetTool(PointTool)
	v.showTool()
}

func (v *viewer) show() {
	ids := v.list(v.scope)
	if !slices.Contains(ids, v.shown) {
		v.shown = ""
		if len(ids) > 0 {
			v.shown = v.preferred(ids)
		}
	}
	v.showScopes()
	v.showClaimState()
	v.showStrip(ids)
	v.showPhoto()
	v.showOutlines()
	v.showHint(len(ids))
	v.beside.show()
}

// preferred is the photo to begin with: one with a finding of the chosen surface,
// else of the part, else one of the cleaned part, else the first.
func (v *viewer) preferred(ids []record.ID) record.ID {
	r := v.p.n.Record()
	best, of := 0, record.ID("")
	for _, o := range record.InOrder(r.Outlines) {
		f, ok := r.Findings[o.Finding]
		if !ok || f.Part != v.p.part || f.Withdrawn != "" || !slices.Contains(ids, o.Photo) {
			continue
		}
		rank := 1
		if f.Surface == v.p.surface {
			rank = 2
		}
		if rank > best {
			best, of = rank, o.Photo
		}
	}
	if of != "" {
		return of
	}
	for _, id := range ids {
		if r.Photos[id].Stage == term.Cleaned {
			return id
		}
	}
	return ids[0]
}

func (v *viewer) showScopes() {
	r := v.p.n.Record()
	own := len(v.list(ofPart))
	loose := len(v.list(unassigned))
	options := []choice{
		{ID: string(ofPart), Label: fmt.Sprintf("This part  %d", own)},
		{ID: string(ofAll), Label: fmt.Sprintf("All photos  %d", len(r.Photos))},
		{ID: string(unassigned), Label: fmt.Sprintf("Unassigned  %d", loose)},
	}
	if n := len(v.list(leftOut)); n > 0 || v.scope == leftOut {
		options = append(options, choice{ID: string(leftOut), Label: fmt.Sprintf("Left out  %d", n)})
	}
	if !slices.Equal(options, v.scopes.Options) {
		v.scopes.SetOptions(options)
	}
	v.scopes.Mark(string(v.scope))
}

// showPhoto puts the photo into the large view: the small picture at once, the
// preview when it is decoded.
func (v *viewer) showPhoto() {
	p, ok := v.record()
	v.showCaption(p, ok)
	if !ok {
		if v.key != (pictureKey{}) {
			v.key = pictureKey{}
			v.photoView.SetPhoto(record.Photo{}, nil)
		}
		return
	}
	key := keyOf(p, previewSize)
	if key == v.key {
		return
	}
	v.key = key
	v.perPart[v.p.part] = v.shown
	pics := v.p.f.pictures
	if pics.have(key) == nil {
		v.photoView.SetPhoto(p, pics.have(keyOf(p, thumbSize)))
	}
	pics.want(p, previewSize, func(img image.Image, err error) {
		if v.key != key {
			return
		}
		if err != nil {
			v.p.notices.put(notice{ID: "photo", Warns: true, words: wordsFor("The photo can't be shown.", err)})
			return
		}
		v.p.notices.take("photo")
		v.photoView.SetPhoto(p, img)
		v.photoView.SetTiles(p, pics.tilesFor(p, v.photoView, v.p.closely.cut))
		v.showOutlines()
	})
}

// showPicked tells how many photos are picked.
func (v *viewer) showPicked() {
	p, ok := v.record()
	v.showCaption(p, ok)
	if v.p.side != nil {
		v.p.side.show()
	}
}

func (v *viewer) showCaption(p record.Photo, ok bool) {
	if !ok {
		v.chip.Hide()
		v.over.Refresh()
		v.stage.Hide()
		v.shows.Hide()
		return
	}
	v.chip.Show()
	says := fmt.Sprintf("Photo %d", p.Number)
	for _, more := range []string{leftOutSays(p), term.Plain(p.Shows), v.saysShown(p), takenSays(p.Taken)} {
		if more != "" {
			says += " · " + more
		}
	}
	if n := len(v.picked()); n > 1 {
		says = fmt.Sprintf("%d photos picked: P assigns, S or Alt+1 to 4 sets their stage · ", n) + says
	}
	v.caption.SetText(says)
	light := v.photoView.Light().Says()
	v.lit.Hidden = light == ""
	v.lit.SetText(capital(light))
	v.over.Refresh()
	v.stage.Show()
	v.stage.show(term.Plain(p.Stage))
	v.shows.Show()
	icon, text := theme.CheckButtonIcon(), "shows this part"
	if v.p.large { // nothing else says which part it is
		text = "shows " + lower(v.p.n.PartName(v.p.part))
	}
	if shows(p, v.p.part) {
		icon = theme.CheckButtonCheckedIcon()
	}
	if v.shows.Icon != icon || v.shows.Text != text {
		v.shows.Icon = icon
		v.shows.SetText(text)
	}
}

// showHint says what to do where there is no photo.
func (v *viewer) showHint(count int) {
	if count > 0 {
		if len(v.hint.Objects) > 0 {
			v.hint.RemoveAll()
		}
		return
	}
	title, text := "No photo of this part yet", "Drop photos on the window, or press Ctrl+O."
	switch {
	case v.scope == leftOut:
		title, text = "No photo is left out", "Every photo of this record stands in its report."
	case v.scope == unassigned:
		title, text = "No photo is unassigned", "Every photo of this record shows a part."
	case v.scope == ofAll:
		title = "No photo in this record yet"
	case !v.p.editable():
		text = ""
	default:
		if loose := len(v.list(unassigned)); loose > 0 {
			text = countOf(loose, "photo is", "photos are") + " unassigned: press 9, then drag them to a part or press P."
		}
	}
	box := column(4, newHeading(title, theme.SizeNameSubHeadingText).middle(), newCaption(text, colorQuiet).middle().whole())
	v.hint.Objects = []fyne.CanvasObject{container.New(layout.NewCenterLayout(), box)}
	v.hint.Refresh()
}

// choose shows a photo.
func (v *viewer) choose(id record.ID) {
	if v.shown == id {
		return
	}
	v.shown = id
	v.perPart[v.p.part] = id
	v.strip.Mark(string(id))
	reveal(v.lane, v.strip.Span)
	v.showPhoto()
	v.showOutlines()
	v.beside.show()
}

// walk shows the photo that is so many further along.
func (v *viewer) walk(by int) {
	v.strip.Walk(by)
}

func (v *viewer) setScope(s scope) {
	v.scope = s
	v.show()
	v.p.f.focus(v.photoView)
}

// take takes a tool in hand, also while the photo is still on its way.
func (v *viewer) take(t Tool) {
	v.photoView.SetTool(t)
	v.p.f.focus(v.photoView)
}

// toolChoices are the tools in the order in which they stand.
var toolChoices = []struct {
	tool  Tool
	label string
}{{PointTool, "Point V"}, {PencilTool, "Pencil Z"}, {CornersTool, "Corners C"}, {OvalTool, "Oval O"}, {BoxTool, "Box Q"}, {SpotTool, "Spot 7"}, {LineTool, "Line H"}, {EdgesTool, "Card ;"}}

func toolOptions() []choice {
	options := make([]choice, len(toolChoices))
	for i, c := range toolChoices {
		short, _, _ := strings.Cut(c.label, " ")
		options[i] = choice{ID: c.label, Label: c.label, Short: short}
	}
	return options
}

func (v *viewer) choseTool(id string) {
	for _, c := range toolChoices {
		if c.label == id {
			v.photoView.SetTool(c.tool)
		}
	}
	v.p.f.focus(v.photoView)
}

func (v *viewer) showTool() {
	for _, c := range toolChoices {
		if c.tool == v.photoView.Tool() {
			v.tools.Mark(c.label)
		}
	}
}

package ui

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// thumbItem is one photo in the strip.
type thumbItem struct {
	ID string
	// Under stands below the picture: number and stage. Turned counts with the
	// picture: a photo that was turned has another one.
	Under  string
	Marked int
	Turned int
	// Out marks a photo that is left out of the report.
	Out bool
}

var (
	_ fyne.Focusable  = (*thumbs)(nil)
	_ desktop.Keyable = (*thumbs)(nil)
)

// thumbs is the strip of photos below the large one, in the order in which they
// were taken. One of them is shown; several can be picked, for what is done to all
// of them at once.
type thumbs struct {
	widget.BaseWidget

	Items    []thumbItem
	Selected string
	// OnSelected is called when a person chooses a photo; OnEnter on Enter.
	OnSelected func(id string)
	OnEnter    func()
	// OnPicked is called when other photos are picked than before.
	OnPicked func()
	// OnDragged follows photos that are dragged, with the pointer's place in the
	// window and the picture of the one that was taken hold of; OnDropped tells that
	// they were let go, OnLeft that the drag was given up.
	OnDragged func(ids []string, at fyne.Position, picture image.Image)
	OnDropped func()
	OnLeft    func()
	// Picture gives the small picture of a photo, nil while it is not there yet.
	Picture func(id string) image.Image
	// Sight tells from where to where the strip can be seen: pictures are wanted
	// only there. Nil stands for all of it.
	Sight func() (from, to float32)

	keys    keyboard
	focused bool
	shift   bool
	parts   []*thumb
	picks   thumbPicks
	// dragged is the photo that was taken hold of, "" while none is; left whether
	// that drag was given up, with the button still down.
	dragged string
	left    bool
}

func newThumbs(keys keyboard) *thumbs {
	t := &thumbs{keys: keys}
	t.ExtendBaseWidget(t)
	return t
}

// SetItems shows other photos. Those that are picked stay so as long as they are
// among them.
func (t *thumbs) SetItems(items []thumbItem) {
	t.Items = items
	t.dropPicks(func(id string) bool { return t.indexOf(id) < 0 })
	t.Refresh()
}

// Mark shows a photo as chosen without calling back. It is picked alone unless it
// is among those that are.
func (t *thumbs) Mark(id string) {
	if t.Selected == id {
		return
	}
	t.Selected = id
	if !t.picks.of[id] {
		t.dropPicks(func(string) bool { return true })
	}
	t.Refresh()
}

func (t *thumbs) index() int { return t.indexOf(t.Selected) }

func (t *thumbs) indexOf(id string) int {
	for i := range t.Items {
		if t.Items[i].ID == id {
			return i
		}
	}
	return -1
}

// Walk chooses the photo that is so many further along.
func (t *thumbs) Walk(by int) {
	if len(t.Items) > 0 {
		t.pick(min(max(t.index()+by, 0), len(t.Items)-1))
	}
}

// pick chooses a photo alone.
func (t *thumbs) pick(i int) {
	t.dropPicks(func(string) bool { return true })
	t.choose(i)
}

func (t *thumbs) choose(i int) {
	id := t.Items[i].ID
	if id == t.Selected {
		t.Refresh()
		return
	}
	t.Selected = id
	t.Refresh()
	if t.OnSelected != nil {
		t.OnSelected(id)
	}
}

// KeyDown watches the Shift key.
func (t *thumbs) KeyDown(ev *fyne.KeyEvent) {
	if ev.Name == desktop.KeyShiftLeft || ev.Name == desktop.KeyShiftRight {
		t.shift = true
	}
}

// KeyUp watches the Shift key.
func (t *thumbs) KeyUp(ev *fyne.KeyEvent) {
	if ev.Name == desktop.KeyShiftLeft || ev.Name == desktop.KeyShiftRight {
		t.shift = false
	}
}

// TypedKey walks along the photos, and with Shift picks those on the way.
func (t *thumbs) TypedKey(ev *fyne.KeyEvent) {
	walk := t.Walk
	if shiftHeld(t.shift) {
		walk = t.Extend
	}
	switch ev.Name {
	case fyne.KeyLeft:
		walk(-1)
	case fyne.KeyRight:
		walk(1)
	case fyne.KeyHome:
		walk(-len(t.Items))
	case fyne.KeyEnd:
		walk(len(t.Items))
	case fyne.KeyEscape:
		switch {
		case t.dragged != "":
			t.leaveDrag()
		case len(t.picks.of) > 0:
			t.pickOnly(t.Selected)
		default:
			t.passOn(ev.Name)
		}
	case fyne.KeyReturn, fyne.KeyEnter:
		if t.OnEnter != nil {
			t.OnEnter()
		}
	default:
		t.passOn(ev.Name)
	}
}

func (t *thumbs) passOn(name fyne.KeyName) {
	if t.keys != nil {
		t.keys.typedKey(name)
	}
}

// TypedRune passes letters on.
func (t *thumbs) TypedRune(r rune) {
	if t.keys != nil {
		t.keys.typedRune(r)
	}
}

// FocusGained shows that the keys go here.
func (t *thumbs) FocusGained() { t.focused = true; t.Refresh() }

// FocusLost shows that they no longer do.
func (t *thumbs) FocusLost() { t.focused, t.shift = false, false; t.Refresh() }

// Span tells from where to where the chosen photo reaches.
func (t *thumbs) Span() (from, to float32) {
	if i := t.index(); i >= 0 {
		from = float32(i) * (thumbWidth + tileGap)
		return from, from + thumbWidth
	}
	return 0, 0
}

// CreateRenderer draws the strip.
func (t *thumbs) CreateRenderer() fyne.WidgetRenderer {
	t.ExtendBaseWidget(t)
	d := &thumbsRenderer{t: t}
	d.build()
	return d
}

type thumbsRenderer struct{ t *thumbs }

const (
	thumbWidth   = 96
	thumbPicture = 64
)

func thumbHeight() float32 { return thumbPicture + theme.CaptionTextSize()*1.4 + 8 }

func (d *thumbsRenderer) build() {
	t := d.t
	for len(t.parts) < len(t.Items) {
		t.parts = append(t.parts, newThumb(t))
	}
	from, to := float32(0), float32(len(t.Items))*(thumbWidth+tileGap)
	if t.Sight != nil {
		from, to = t.Sight()
	}
	for i := range t.Items {
		chosen := t.Items[i].ID == t.Selected
		var picture image.Image
		if at := float32(i) * (thumbWidth + tileGap); t.Picture != nil && at+thumbWidth >= from && at <= to {
			picture = t.Picture(t.Items[i].ID)
		}
		t.parts[i].set(t.Items[i], picture, thumbLook{chosen: chosen, focused: chosen && t.focused, picked: t.picks.of[t.Items[i].ID]})
	}
}

func (d *thumbsRenderer) Layout(size fyne.Size) {
	for i := range d.t.Items {
		d.t.parts[i].Move(fyne.NewPos(float32(i)*(thumbWidth+tileGap), 0))
		d.t.parts[i].Resize(fyne.NewSize(thumbWidth, size.Height))
	}
}

func (d *thumbsRenderer) MinSize() fyne.Size {
	return fyne.NewSize(float32(len(d.t.Items))*(thumbWidth+tileGap), thumbHeight())
}

func (d *thumbsRenderer) Refresh() {
	d.build()
	d.Layout(d.t.Size())
	canvas.Refresh(d.t)
}

func (d *thumbsRenderer) Objects() []fyne.CanvasObject {
	objects := make([]fyne.CanvasObject, len(d.t.Items))
	for i := range objects {
		objects[i] = d.t.parts[i]
	}
	return objects
}

func (d *thumbsRenderer) Destroy() {}

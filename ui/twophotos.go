package ui

import (
	"context"
	"fmt"
	"image"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// besidePhoto is one that can be looked at beside the photo that is worked on.
type besidePhoto struct {
	id    record.ID // empty for one of another core
	photo record.Photo
	label string
}

// secondPhoto is for looking beside the one that is worked on: as found against cleaned, this core
// against that. The two go along with one another unless they are unlinked, which
// brings them to cover one another first.
type secondPhoto struct {
	v      *viewer
	view   *PhotoView
	which  *drop
	link   *toggle
	bar    *fyne.Container
	frame  *fyne.Container
	open   bool
	shown  besidePhoto
	key    pictureKey
	own    []besidePhoto
	others []besidePhoto
	// of is the part whose photos of other cores are known.
	of record.ID
}

func newSecondPhoto(v *viewer) *secondPhoto {
	b := &secondPhoto{v: v, view: NewPhotoView()}
	b.view.SetDisabled(true)
	b.view.OnKey = b.typed
	b.which = newDrop(v.p.f, nil, func(string) { b.choseAt(b.which.SelectedIndex()) })
	b.link = newToggle(v.p.f, "together  5", b.toggleLink)
	b.link.Set(true)
	cross := newButton(v.p.f, "", theme.CancelIcon(), b.toggle).low()
	b.bar = container.NewBorder(nil, nil, newCaption("beside it", colorQuiet).small().whole(), line(4, b.link, cross), b.which)
	b.bar.Hide()
	b.frame = container.NewStack(newGround(colorMat), b.view)
	return b
}

// typed has the keys for the photo before and after walk through what can stand
// beside; all others are the window's.
func (b *secondPhoto) typed(name fyne.KeyName, r rune) bool {
	switch {
	case r == ',' || name == fyne.KeyPageUp:
		b.walk(-1)
	case r == '.' || name == fyne.KeyPageDown:
		b.walk(1)
	case r != 0:
		return b.v.p.f.typedRune(r)
	case name == fyne.KeyEscape:
		b.v.p.f.focus(b.v.photoView)
	default:
		return b.v.p.f.typedKey(name)
	}
	return true
}

// toggle puts a second photo beside the one that is shown, or takes it away.
func (b *secondPhoto) toggle() {
	b.open = !b.open
	if !b.open {
		b.view.Link(nil)
		b.bar.Hide()
		b.shown, b.key = besidePhoto{}, pictureKey{}
		b.view.SetPhoto(record.Photo{}, nil)
		b.v.spread()
		b.v.p.f.focus(b.v.photoView)
		return
	}
	b.bar.Show()
	b.v.spread()
	b.show()
	b.toLink()
}

func (b *secondPhoto) toggleLink() {
	if b.open {
		b.link.Set(!b.link.On)
		b.toLink()
	}
}

func (b *secondPhoto) toLink() {
	if b.link.On {
		b.v.photoView.Link(b.view)
	} else {
		b.v.photoView.Link(nil)
	}
}

// show keeps up with the record, the part and the photo that is shown.
func (b *secondPhoto) show() {
	if !b.open {
		return
	}
	b.findOthers()
	b.own = b.ofPart()
	all := b.all()
	labels := make([]string, len(all))
	at := -1
	for i, p := range all {
		labels[i] = p.label
		if p.id == b.shown.id && p.photo.File == b.shown.photo.File && b.shown.photo.File != "" {
			at = i
		}
	}
	if !slices.Equal(labels, b.which.Options) {
		b.which.SetOptions(labels)
	}
	switch {
	case len(all) == 0:
		b.shown = besidePhoto{}
		b.which.show("no other photo of this part")
		b.view.SetMessage("No other photo of this part yet.")
		b.key = pictureKey{}
	case at < 0:
		b.put(all[b.best(all)])
	default:
		b.put(all[at])
	}
}

func (b *secondPhoto) all() []besidePhoto { return slices.Concat(b.own, b.others) }

// ofPart are the other photos of the chosen part, in the order in which they were
// taken.
func (b *secondPhoto) ofPart() []besidePhoto {
	r := b.v.p.n.Record()
	var own []besidePhoto
	for _, id := range b.v.list(ofPart) {
		if id != b.v.shown {
			p := r.Photos[id]
			own = append(own, besidePhoto{id: id, photo: p, label: besideLabel(p)})
		}
	}
	return own
}

func besideLabel(p record.Photo) string {
	label := fmt.Sprintf("photo %d", p.Number)
	if p.Stage != "" {
		label += ", " + term.Plain(p.Stage)
	}
	return label
}

// best is the photo to begin with: the nearest one of another stage, else the
// first.
func (b *secondPhoto) best(all []besidePhoto) int {
	p, _ := b.v.record()
	return max(slices.IndexFunc(all, func(o besidePhoto) bool { return o.id != "" && o.photo.Stage != p.Stage }), 0)
}

// findOthers looks for the part's photos of other cores, once for each part.
func (b *secondPhoto) findOthers() {
	part := b.v.p.part
	if part == b.of {
		return
	}
	b.of, b.others = part, nil
	find := func(ctx context.Context) ([]inspection.PhotoElsewhere, error) {
		return b.v.p.n.PhotosElsewhere(ctx, part)
	}
	beside(b.v.p.f, find, func(found []inspection.PhotoElsewhere, err error) {
		if err != nil || b.of != part {
			return
		}
		for _, p := range found {
			b.others = append(b.others, besidePhoto{photo: p.Photo, label: p.Core + ": " + besideLabel(p.Photo)})
		}
		b.show()
	})
}

func (b *secondPhoto) choseAt(i int) {
	if all := b.all(); i >= 0 && i < len(all) {
		b.put(all[i])
	}
	b.v.p.f.focus(b.view)
}

func (b *secondPhoto) walk(by int) {
	all := b.all()
	at := slices.IndexFunc(all, func(p besidePhoto) bool { return p.id == b.shown.id && p.photo.File == b.shown.photo.File })
	if len(all) > 0 {
		b.put(all[min(max(at+by, 0), len(all)-1)])
	}
}

// put shows a photo beside the other one.
func (b *secondPhoto) put(p besidePhoto) {
	b.shown = p
	b.which.show(p.label)
	key := keyOf(p.photo, previewSize)
	if key == b.key {
		b.showOutlines()
		return
	}
	b.key = key
	pics := b.v.p.f.pictures
	b.view.SetPhoto(p.photo, pics.have(keyOf(p.photo, thumbSize)))
	b.showOutlines()
	pics.want(p.photo, previewSize, func(img image.Image, err error) {
		switch {
		case b.key != key:
		case err != nil:
			b.view.SetMessage(wordsFor("", err).Message)
		default:
			b.view.SetPhoto(p.photo, img)
			b.view.SetTiles(p.photo, pics.tilesFor(p.photo, b.view, b.v.p.closely.cut))
			b.showOutlines()
		}
	})
}

// showOutlines draws those of a photo of this record.
func (b *secondPhoto) showOutlines() {
	if b.shown.id == "" {
		b.view.SetOutlines(nil)
		return
	}
	b.view.SetOutlines(b.v.outlinesOf(b.shown.id))
}

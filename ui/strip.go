package ui

import (
	"fmt"
	"image"
	"slices"
	"time"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// showStrip shows the photos of a list below the large one.
func (v *viewer) showStrip(ids []record.ID) {
	r := v.p.n.Record()
	marked := map[record.ID]int{}
	for _, o := range r.Outlines {
		if o.Repeats == "" {
			marked[o.Photo]++
		}
	}
	items := make([]thumbItem, len(ids))
	for i, id := range ids {
		p := r.Photos[id]
		under := fmt.Sprint(p.Number)
		if p.Stage != "" {
			under += " · " + term.Plain(p.Stage)
		}
		items[i] = thumbItem{ID: string(id), Under: under, Marked: marked[id], Turned: p.Turned, Out: p.LeftOut != ""}
	}
	if !slices.Equal(items, v.strip.Items) {
		v.strip.SetItems(items)
		v.lane.Refresh()
	}
	v.strip.Mark(string(v.shown))
	reveal(v.lane, v.strip.Span)
}

// thumb gives a small picture, and asks for it once if it is not there. What comes
// is shown together: each answer drawing the whole strip, and asking again for all
// that is not there, would bring the window to a stand with sixty photos.
func (v *viewer) thumb(id string) image.Image {
	p, ok := v.p.n.Record().Photos[record.ID(id)]
	if !ok {
		return nil
	}
	key := keyOf(p, thumbSize)
	if img := v.p.f.pictures.have(key); img != nil {
		return img
	}
	if v.asked[key] {
		return nil
	}
	v.asked[key] = true
	v.p.f.pictures.want(p, thumbSize, func(_ image.Image, err error) {
		if err == nil {
			delete(v.asked, key)
			v.drawStripSoon()
		}
	})
	return nil
}

// drawStripSoon draws the strip once, however many pictures have come for it.
func (v *viewer) drawStripSoon() {
	if v.drawing {
		return
	}
	v.drawing = true
	time.AfterFunc(stripRests, func() {
		v.p.f.later(func() {
			v.drawing = false
			v.strip.Refresh()
		})
	})
}

// stripRests is how long pictures are gathered before the strip is drawn.
const stripRests = 40 * time.Millisecond

// inSight tells from where to where the strip can be seen, with some room for what
// comes next.
func (v *viewer) inSight() (from, to float32) {
	width := v.lane.Size().Width
	return v.lane.Offset.X - width/2, v.lane.Offset.X + width*3/2
}

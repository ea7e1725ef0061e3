package ui

import (
	"image"
	"time"

	"fyne.io/fyne/v2"
)

// photoMotion tells the frames of a photo that is being moved from those of one that
// stands still.
type photoMotion struct {
	view  Viewport // of the frame before
	moved time.Time
	// cost is how long the last whole frame took that was moved.
	cost  time.Duration
	still *time.Timer
}

const (
	// stillAfter is how long nothing moves before a photo stands still.
	stillAfter = 120 * time.Millisecond
	// frameShare is how much of a frame's time composing may take. The rest is the
	// window's, which without a graphics card needs most of it.
	frameShare = 4 * time.Millisecond
	// coarsely is how many pixels of the window one of a coarse frame takes, across.
	coarsely = 2
)

// paint draws the next frame in the window. On a machine that is too slow to compose
// sixty whole ones a second, those of a photo on the move are coarse, and a whole one
// follows when it stands still: a photo that jerks is harder to look at than one that
// is soft for a moment.
func (v *PhotoView) paint(width, height int) image.Image {
	m, begun := &v.motion, time.Now()
	moved := v.view != m.view
	coarse := moved && begun.Sub(m.moved) < stillAfter && m.cost > frameShare && !v.lens.on && v.view.Zoom() < crispFrom
	var frame image.Image
	if coarse {
		frame = v.compose(width, height, coarsely)
		v.sharpenSoon()
	} else {
		frame = v.compose(width, height, 1)
	}
	if moved {
		m.moved = begun
	}
	if moved && !coarse {
		m.cost = time.Since(begun)
	}
	m.view = v.view
	return frame
}

// sharpenSoon has a whole frame drawn once nothing has moved for a while.
func (v *PhotoView) sharpenSoon() {
	if v.motion.still == nil {
		v.motion.still = time.AfterFunc(stillAfter, func() { fyne.Do(v.redraw) })
		return
	}
	v.motion.still.Reset(stillAfter)
}

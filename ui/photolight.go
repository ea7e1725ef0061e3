package ui

import (
	"encoding/binary"
	"fmt"
	"image"
	"math"
)

// Light is how much brighter and harder a photo is shown than it was taken, for
// looking only: no record, no report and no export knows of it. The zero value is
// as taken.
type Light struct {
	// Brightness lifts the dark parts, or lowers them, and Contrast spreads the
	// tones about the middle; each from -100 to 100.
	Brightness, Contrast int
}

// Plain tells whether the photo is shown as it was taken.
func (l Light) Plain() bool { return l == Light{} }

// Says tells what is done to the photo, "" for nothing.
func (l Light) Says() string {
	if l.Plain() {
		return ""
	}
	return fmt.Sprintf("brightness %+d, contrast %+d, for looking only", l.Brightness, l.Contrast)
}

func (l Light) within() Light {
	bound := func(n int) int { return min(max(n, -100), 100) }
	return Light{Brightness: bound(l.Brightness), Contrast: bound(l.Contrast)}
}

// table returns what becomes of each tone. Brightness is a power, so that black
// stays black and white stays white; contrast a slope about the middle.
func (l Light) table() (tones [256]uint8) {
	power := math.Pow(2, -float64(l.Brightness)/50)
	slope := math.Pow(2, float64(l.Contrast)/50)
	for i := range tones {
		tone := math.Pow(float64(i)/255, power)
		tone = (tone-0.5)*slope + 0.5
		tones[i] = uint8(math.Round(min(max(tone, 0), 1) * 255))
	}
	return tones
}

// photoLight lays a light over what was drawn.
type photoLight struct {
	of Light
	// tones are the table of of; they are made anew when it changes.
	tones [256]uint8
}

func (p *photoLight) lay(to *image.RGBA, area image.Rectangle, l Light) {
	if l.Plain() || area.Empty() {
		return
	}
	if p.of != l {
		p.of, p.tones = l, l.table()
	}
	tones := &p.tones
	for y := area.Min.Y; y < area.Max.Y; y++ {
		row := to.Pix[to.PixOffset(area.Min.X, y):][:4*area.Dx()]
		for ; len(row) >= 8; row = row[8:] {
			v := binary.LittleEndian.Uint64(row)
			binary.LittleEndian.PutUint64(row, 0xff000000ff000000|
				uint64(tones[uint8(v)])|uint64(tones[uint8(v>>8)])<<8|uint64(tones[uint8(v>>16)])<<16|
				uint64(tones[uint8(v>>32)])<<32|uint64(tones[uint8(v>>40)])<<40|uint64(tones[uint8(v>>48)])<<48)
		}
		if len(row) >= 4 {
			row[0], row[1], row[2] = tones[row[0]], tones[row[1]], tones[row[2]]
		}
	}
}

// SetLight shows the photo brighter or harder than it was taken, for looking only.
func (v *PhotoView) SetLight(l Light) {
	if l = l.within(); l != v.light {
		v.light = l
		v.redraw()
	}
}

// Light returns how the photo is shown.
func (v *PhotoView) Light() Light { return v.light }

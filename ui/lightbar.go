package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// lightBar shows the photo brighter or harder, for looking only. It stands above
// the photo as long as it is asked for.
type lightBar struct {
	v                    *viewer
	brightness, contrast *slide
	object               *fyne.Container
}

func newLightBar(v *viewer) *lightBar {
	b := &lightBar{v: v}
	b.brightness = newSlide(v.p.f, func(float64) { b.set() })
	b.contrast = newSlide(v.p.f, func(float64) { b.set() })
	named := func(name string, s *slide) fyne.CanvasObject {
		return container.NewBorder(nil, nil, newCaption(name, colorQuiet).small().whole(), nil, s)
	}
	back := newButton(v.p.f, "As taken   4", nil, b.leave)
	b.object = container.NewBorder(nil, nil, nil, back,
		container.NewGridWithColumns(2, named("brightness", b.brightness), named("contrast", b.contrast)))
	b.object.Hide()
	return b
}

// toggle opens the bar with the keys on it, or puts the light back and leaves.
func (b *lightBar) toggle() {
	if b.object.Visible() {
		b.leave()
		return
	}
	b.object.Show()
	b.v.p.f.focus(b.brightness)
}

func (b *lightBar) set() {
	l := Light{Brightness: int(b.brightness.Value), Contrast: int(b.contrast.Value)}
	b.v.photoView.SetLight(l)
	b.v.beside.view.SetLight(l)
	p, ok := b.v.record()
	b.v.showCaption(p, ok)
}

// leave shows the photo as it was taken.
func (b *lightBar) leave() {
	b.brightness.SetValue(0)
	b.contrast.SetValue(0)
	b.set()
	b.object.Hide()
	b.v.p.f.focus(b.v.photoView)
}

// slide is a slider that lets through the keys that it has no use for.
type slide struct {
	widget.Slider

	keys keyboard
}

func newSlide(keys keyboard, changed func(float64)) *slide {
	s := &slide{keys: keys}
	s.Min, s.Max, s.Step, s.OnChanged = -100, 100, 5, changed
	s.ExtendBaseWidget(s)
	return s
}

// TypedKey moves the slider by the arrows and passes the rest on.
func (s *slide) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyLeft, fyne.KeyRight:
		s.Slider.TypedKey(ev)
	case fyne.KeyUp, fyne.KeyDown:
		step := map[fyne.KeyName]float64{fyne.KeyUp: 20, fyne.KeyDown: -20}[ev.Name]
		s.SetValue(min(max(s.Value+step, s.Min), s.Max))
	default:
		if s.keys != nil {
			s.keys.typedKey(ev.Name)
		}
	}
}

// TypedRune passes letters on.
func (s *slide) TypedRune(r rune) {
	if s.keys != nil && r != ' ' {
		s.keys.typedRune(r)
	}
}

package ui

// Link has another view follow how this one is panned and zoomed, and the other
// way round; nil ends it. Each photo keeps the place it was brought to before, so
// that two that were taken differently can be brought to cover one another first.
func (v *PhotoView) Link(other *PhotoView) {
	if v.partner != nil {
		v.partner.partner = nil
	}
	v.partner = other
	if other != nil {
		other.partner = v
	}
}

// follows returns the view that goes along, nil where there is none.
func (v *PhotoView) follows() *PhotoView {
	if v.partner == nil || !v.partner.HasPhoto() {
		return nil
	}
	return v.partner
}

// pan moves the photo, in units of the window, and that of the linked view.
func (v *PhotoView) pan(dx, dy float64) {
	v.view.Pan(dx, dy)
	if p := v.follows(); p != nil {
		p.view.Pan(dx, dy)
		p.redraw()
	}
}

// zoom changes the scale and has the linked view change its own by as much about
// the same place.
func (v *PhotoView) zoom(x, y float64, change func()) {
	before, fitted := v.view.Scale(), v.view.Fitted()
	change()
	if p := v.follows(); p != nil && before > 0 {
		switch {
		case v.view.Fitted() && !fitted:
			p.view.Fit()
		default:
			size, other := v.Size(), p.Size()
			p.view.ZoomBy(v.view.Scale()/before, x*float64(other.Width/size.Width), y*float64(other.Height/size.Height))
		}
		p.redraw()
	}
	v.redraw()
}

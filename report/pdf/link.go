package pdf

// bookmark is one line of the outline that readers show beside the pages.
type bookmark struct {
	level int
	page  int
	y     float64
	title string
}

// Bookmark adds a line to the outline beside the pages, leading to y on this
// page. Level 0 is the outermost; a level more than one deeper than the line
// before is taken as one deeper.
func (p *Page) Bookmark(level int, y float64, title string) {
	if !p.ready("bookmark", y) {
		return
	}
	deepest := 0
	if n := len(p.d.bookmarks); n > 0 {
		deepest = p.d.bookmarks[n-1].level + 1
	}
	p.d.bookmarks = append(p.d.bookmarks, bookmark{max(0, min(level, deepest)), p.Number, y, title})
}

// Anchor is a place that links lead to. It may be linked to before it is set.
type Anchor struct {
	d    *Document
	id   int
	page *Page
}

// Anchor makes a place to link to, to be set by Page.Set.
func (d *Document) Anchor() *Anchor {
	return &Anchor{d: d, id: d.f.AddLink()}
}

// Set says that an anchor is at y on this page.
func (p *Page) Set(a *Anchor, y float64) {
	if a.d != p.d || !p.ready("anchor", y) {
		return
	}
	a.page = p
	p.d.f.SetLink(a.id, y, p.Number)
}

// Link makes a click on an area lead to an anchor. Close fails if that is never
// set.
func (p *Page) Link(area Rect, to *Anchor) {
	if to.d != p.d || !p.ready("link", area.X, area.Y, area.W, area.H) {
		return
	}
	p.d.linked = append(p.d.linked, to)
	p.d.f.Link(area.X, area.Y, area.W, area.H, to.id)
}

package report

import (
	"fmt"

	"fettlebook/assess/record"
)

// withoutLeftOut takes the photos that somebody left out of the report out of the
// order's record, with their outlines: nothing in the report then points to what it
// does not show. It returns those photos in their order.
func (o *Order) withoutLeftOut() []record.Photo {
	var out []record.Photo
	shown := *o.Record
	shown.Photos, shown.Outlines = map[record.ID]record.Photo{}, map[record.ID]record.Outline{}
	for id, p := range record.InOrder(o.Record.Photos) {
		if p.LeftOut != "" {
			out = append(out, p)
		} else {
			shown.Photos[id] = p
		}
	}
	for id, outline := range o.Record.Outlines {
		if _, ok := shown.Photos[outline.Photo]; ok {
			shown.Outlines[id] = outline
		}
	}
	o.Record = &shown
	return out
}

// leftOutPhotos lists the photos that the record holds and the report does not show,
// for who has to know that there are more.
func (p *pages) leftOutPhotos() {
	if len(p.leftOut) == 0 || p.order.Reader == Customer {
		return
	}
	p.head(0, "Photos left out of this report")
	p.paragraph(quiet, "The record holds them, and the archive their originals.")
	p.space(1)
	columns := p.columns(0.08, 0.47, 0.25, 0.2, "Photo", "File, SHA-256 of the original", "Taken", "Left out by")
	p.tableHead(columns)
	for _, ph := range p.leftOut {
		p.row(columns, []cell{plain(fmt.Sprint(ph.Number)), {text: ph.Name + "\n" + ph.File, style: tiny}, {text: taken(ph.Taken), style: quiet}, plain(ph.LeftOut)})
	}
}

package ui

import (
	"fmt"
	"strings"

	"fettlebook/assess/gauge"
	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// measuredOnPhotos remembers how large a finding was said to be: measuring takes
// some milliseconds, and every change shows it again.
type measuredOnPhotos struct {
	record  *record.Record
	finding record.ID
	unit    gauge.Unit
	says    string
}

// extentOf tells how large a finding is on its photos.
func (p *inspectionPlace) extentOf(r *record.Record, finding record.ID) string {
	if m := &p.measured; m.record != r || m.finding != finding || m.unit != p.f.settings.Unit {
		*m = measuredOnPhotos{r, finding, p.f.settings.Unit, extentsSay(p.n.Extents(finding), p)}
	}
	return p.measured.says
}

func extentsSay(all []inspection.Extent, p *inspectionPlace) string {
	says := make([]string, 0, len(all))
	for _, x := range all {
		says = append(says, fmt.Sprintf("Photo %d: %s", x.Photo, x.Says(p.f.settings.Unit)))
	}
	return strings.Join(says, " ")
}

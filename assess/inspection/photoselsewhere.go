package inspection

import (
	"context"
	"slices"

	"fettlebook/assess/record"
)

// PhotoElsewhere is a photo of another core that shows the same part.
type PhotoElsewhere struct {
	record.Photo
	// Core is the other unit with its serial.
	Core string
}

// photoCores is how many other cores are looked through for photos of a part.
const photoCores = 40

// PhotosElsewhere returns photos of the same part of other cores of this unit type,
// those of the newest cores first. What can't be read is left out.
func (n *Inspection) PhotosElsewhere(ctx context.Context, part record.ID) ([]PhotoElsewhere, error) {
	own := n.Record()
	place, kind := own.Parts[part].Place, own.Parts[part].Kind
	page, err := n.bench.Find(ctx, Query{Limit: photoCores})
	if err != nil {
		return nil, err
	}
	var found []PhotoElsewhere
	for _, row := range page.Rows {
		if row.Record == own.ID {
			continue
		}
		r, err := n.bench.kept(ctx, row.Record)
		if err != nil || r.Unit.Type != own.Unit.Type {
			continue
		}
		for _, p := range record.InOrder(r.Photos) {
			if slices.ContainsFunc(p.Subjects, func(s record.Subject) bool {
				other := r.Parts[s.Part]
				return other.Kind == kind && other.Place == place
			}) {
				found = append(found, PhotoElsewhere{Photo: p, Core: r.Unit.Says()})
			}
		}
	}
	return found, nil
}

package inspection

import (
	"fmt"
	"strings"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// AddOutline adds an outline on a photo, for a finding or for none yet, as one
// gesture, and returns its id. The photo then shows the finding's part.
func (n *Inspection) AddOutline(o record.Outline) (record.ID, error) {
	id := record.NewID()
	says := fmt.Sprintf("%s drawn on photo %d", o.Shape, n.Record().Photos[o.Photo].Number)
	gestures := []record.Gesture{record.AddOutline(says, id, o)}
	if f, ok := n.Record().Findings[o.Finding]; ok {
		gestures = append(gestures, n.seenOn(o.Photo, f.Part))
	}
	return id, n.Do(record.Together(says, gestures...))
}

// OutlineFace says that an outline is the shape of a zone of a surface, as one
// gesture. The photo then shows that part.
func (n *Inspection) OutlineFace(outline record.ID, face record.Face) error {
	says := fmt.Sprintf("outline %d is the %s of %s of %s", n.Record().Outlines[outline].Number, term.Plain(face.Zone),
		n.SurfaceName(face.Part, face.Surface), strings.ToLower(n.PartName(face.Part)))
	return n.Do(record.Together(says, record.ChangeOutline(says, outline, func(o *record.Outline) { o.Face = face }), n.shownBy(outline, face.Part)))
}

func (n *Inspection) shownBy(outline, part record.ID) record.Gesture {
	return n.seenOn(n.Record().Outlines[outline].Photo, part)
}

// seenOn notes that a photo shows a part: what is marked on a photo is seen there,
// and a photo that nobody assigned would be looked for in vain.
func (n *Inspection) seenOn(photo, part record.ID) record.Gesture {
	if _, ok := n.Record().Photos[photo]; !ok {
		return record.Together("")
	}
	return record.ChangePhoto("", photo, func(p *record.Photo) { p.Subjects = withSubject(p.Subjects, record.Subject{Part: part}) })
}

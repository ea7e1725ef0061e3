package inspection

import (
	"fmt"
	"strings"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// AddOutline adds an outline on a photo, for a finding or for none yet, as one
// gesture, and returns its id. The photo then shows the finding's part.
func (n *Inspection) AddOutline(o record.Outline) (record.ID, error) {
	id := record.NewID()
	o.By = n.bench.Who()
	says := fmt.Sprintf("%s drawn on photo %d", saysShape(o.Shape), n.Record().Photos[o.Photo].Number)
	gestures := []record.Gesture{record.AddOutline(says, id, o)}
	if f, ok := n.Record().Findings[o.Finding]; ok {
		gestures = append(gestures, n.seenOn(o.Photo, f.Part))
	}
	return id, n.Do(record.Together(says, gestures...))
}

// saysShape names what was drawn as people call it: whether it was drawn freehand, as
// a box or corner by corner, its shape does not tell.
func saysShape(s record.Shape) string {
	switch s {
	case record.Polygon:
		return "outline"
	case record.Edges:
		return "edges of a card"
	}
	return string(s)
}

// OutlineFinding says that an outline shows a finding that is there already, as one
// gesture: one damage may be seen on several photos. The photo then shows that part.
func (n *Inspection) OutlineFinding(outline, finding record.ID) error {
	f, ok := n.Record().Findings[finding]
	if !ok {
		return fmt.Errorf("the finding that the outline is to show is no longer there")
	}
	says := fmt.Sprintf("outline %d shows finding %d", n.Record().Outlines[outline].Number, f.Number)
	change := record.ChangeOutline(says, outline, func(o *record.Outline) { o.Finding, o.Face = finding, record.Face{} })
	return n.Do(record.Together(says, change, n.shownBy(outline, f.Part)))
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

// RepeatOutline keeps an outline that was drawn once more, to see how well whoever is
// at the bench picks, as one gesture.
func (n *Inspection) RepeatOutline(first record.ID, shape record.Shape, points []record.Point) error {
	o := n.Record().Outlines[first]
	if o.Repeats != "" {
		first, o = o.Repeats, n.Record().Outlines[o.Repeats]
	}
	says := fmt.Sprintf("outline %d drawn once more by %s on photo %d", o.Number, n.bench.Who(), n.Record().Photos[o.Photo].Number)
	return n.Do(record.AddOutline(says, record.NewID(), record.Outline{Photo: o.Photo, Repeats: first, By: n.bench.Who(), Shape: shape, Points: points}))
}

// Lie says how the surface that an outline shows lies to the plane of the photo's
// scale, for all its outlines on that photo, as one gesture.
func (n *Inspection) Lie(outline record.ID, lies record.Lies) error {
	r := n.Record()
	o := r.Outlines[outline]
	says := fmt.Sprintf("what outline %d shows lies %s on photo %d", o.Number, assess.LiesSays(lies), r.Photos[o.Photo].Number)
	var gestures []record.Gesture
	for _, id := range assess.OnSurface(r, outline) {
		gestures = append(gestures, record.ChangeOutline("", id, func(o *record.Outline) { o.Lies = lies }))
	}
	return n.Do(record.Together(says, gestures...))
}

// LiesOf tells how what an outline shows lies: as was told of it, or of another
// outline of the same surface.
func (n *Inspection) LiesOf(outline record.ID) record.Lies {
	return assess.LiesOf(n.Record(), outline)
}

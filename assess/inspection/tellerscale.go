package inspection

import (
	"context"
	"fmt"
	"slices"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// scales takes the rules on the photos as their scales, outlines the working faces,
// and says how the surfaces lie.
func (t *teller) scales(context.Context) error {
	for _, s := range t.core.Scale {
		at := slices.IndexFunc(t.photos, func(p storyPhoto) bool { return p.File == s.Photo })
		if at < 0 {
			return fmt.Errorf("there is no photo %q", s.Photo)
		}
		if err := t.scale(s, t.photos[at]); err != nil {
			return fmt.Errorf("the scale of %s: %w", s.Photo, err)
		}
	}
	return nil
}

func (t *teller) scale(s storyScale, p storyPhoto) error {
	photo := t.files[p.File]
	o := record.Outline{Photo: photo, Shape: record.Line, Points: p.Scale.Points}
	known := record.Known{What: s.What, Tolerance: s.Tolerance, Tilt: s.Tilt, Length: fmt.Sprintf("%d mm", p.Scale.MM)}
	if s.Tilt == "" {
		if len(p.Edges.MM) != 2 {
			return fmt.Errorf("no edges of the rule are known; give a tilt")
		}
		o.Shape, o.Points = record.Edges, p.Edges.Points
		known.Length, known.Width, known.Height = "", fmt.Sprintf("%v mm", p.Edges.MM[0]), fmt.Sprintf("%v mm", p.Edges.MM[1])
	}
	id, err := t.n.AddOutline(o)
	if err != nil {
		return err
	}
	says := fmt.Sprintf("the %s is the scale of photo %d", s.What, t.n.Record().Photos[photo].Number)
	if err := t.n.Do(record.ChangeOutline(says, id, func(o *record.Outline) { o.Known = known })); err != nil {
		return err
	}
	if len(p.Face) > 0 {
		part, err := t.part(p.Place)
		if err != nil {
			return err
		}
		face, err := t.n.AddOutline(record.Outline{Photo: photo, Shape: record.Polygon, Points: p.Face})
		if err != nil {
			return err
		}
		if err := t.n.OutlineFace(face, record.Face{Part: part, Surface: p.Surface, Zone: term.WorkingFace}); err != nil {
			return err
		}
	}
	if s.Height == "" && s.Bound == "" {
		return nil
	}
	for id, o := range record.InOrder(t.n.Record().Outlines) {
		if o.Photo == photo && o.Finding != "" {
			return t.n.Lie(id, record.Lies{Height: s.Height, Bound: s.Bound})
		}
	}
	return nil
}

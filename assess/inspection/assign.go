package inspection

import (
	"fmt"
	"slices"
	"strings"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// Assign notes that photos show a part, or one surface of it, as one gesture. With
// only they then show nothing else. A surface takes the place of its whole part.
// Photos that are not in the record are passed over.
func (n *Inspection) Assign(photos []record.ID, to record.Subject, only bool) error {
	says := n.SaysPhotos(photos) + n.saysVerb(photos, " shows ", " show ")
	if only {
		says += "only "
	}
	return n.changePhotos(photos, says+n.saysSubject(to), func(p *record.Photo) {
		subjects := p.Subjects
		if only {
			subjects = nil
		}
		p.Subjects = withSubject(subjects, to)
	})
}

// withSubject adds a subject to those that a photo shows already.
func withSubject(subjects []record.Subject, to record.Subject) []record.Subject {
	whole := record.Subject{Part: to.Part}
	switch {
	case slices.Contains(subjects, to):
		return subjects
	case to == whole && slices.ContainsFunc(subjects, func(s record.Subject) bool { return s.Part == to.Part }):
		return subjects
	}
	kept := slices.DeleteFunc(slices.Clone(subjects), func(s record.Subject) bool { return s == whole })
	return append(kept, to)
}

// Unassign notes that photos do not show a surface, or nothing of a part where no
// surface is named, as one gesture.
func (n *Inspection) Unassign(photos []record.ID, from record.Subject) error {
	says := n.SaysPhotos(photos) + n.saysVerb(photos, " does not show ", " do not show ") + n.saysSubject(from)
	return n.changePhotos(photos, says, func(p *record.Photo) {
		p.Subjects = slices.DeleteFunc(slices.Clone(p.Subjects), func(s record.Subject) bool {
			return s == from || (from.Surface == "" && s.Part == from.Part)
		})
	})
}

// saysSubject names a part, or a surface with its part.
func (n *Inspection) saysSubject(s record.Subject) string {
	name := strings.ToLower(n.PartName(s.Part))
	if s.Surface != "" {
		name += ", " + strings.ToLower(n.SurfaceName(s.Part, s.Surface))
	}
	return name
}

// SetStage notes when photos were taken, as one gesture.
func (n *Inspection) SetStage(photos []record.ID, stage term.Stage) error {
	return n.changePhotos(photos, n.SaysPhotos(photos)+": "+term.Plain(stage), func(p *record.Photo) { p.Stage = stage })
}

// LeaveOut leaves photos out of the report, or takes them back into it, as one
// gesture. The record keeps them, and who left them out.
func (n *Inspection) LeaveOut(photos []record.ID, out bool) error {
	says, by := " back in the report", ""
	if out {
		says, by = " left out of the report", n.bench.Who()
	}
	return n.changePhotos(photos, n.SaysPhotos(photos)+says, func(p *record.Photo) { p.LeftOut = by })
}

// TurnPhotos turns photos clockwise by a multiple of 90 degrees, as one gesture.
// The files stay as they are.
func (n *Inspection) TurnPhotos(photos []record.ID, by int) error {
	return n.changePhotos(photos, n.SaysPhotos(photos)+" turned", func(p *record.Photo) { p.Turned = ((p.Turned+by)%360 + 360) % 360 })
}

// RemovePhotos takes photos and their outlines out of the record, as one gesture.
// The originals stay in the archive.
func (n *Inspection) RemovePhotos(photos []record.ID) error {
	r := n.Record()
	var gestures []record.Gesture
	for _, id := range photos {
		if p, ok := r.Photos[id]; ok {
			gestures = append(gestures, record.RemovePhoto(id, p.Number))
		}
	}
	return n.Do(record.Together(n.SaysPhotos(photos)+" taken out of the record", gestures...))
}

func (n *Inspection) changePhotos(photos []record.ID, says string, edit func(*record.Photo)) error {
	r := n.Record()
	var gestures []record.Gesture
	for _, id := range photos {
		if _, ok := r.Photos[id]; ok {
			gestures = append(gestures, record.ChangePhoto("", id, edit))
		}
	}
	return n.Do(record.Together(says, gestures...))
}

// SaysPhotos names photos by their numbers, or counts them where they are many.
func (n *Inspection) SaysPhotos(photos []record.ID) string {
	r := n.Record()
	var numbers []string
	for _, id := range photos {
		if p, ok := r.Photos[id]; ok {
			numbers = append(numbers, fmt.Sprint(p.Number))
		}
	}
	const named = 4
	switch last := len(numbers) - 1; {
	case last > named-1:
		return fmt.Sprintf("%d photos", len(numbers))
	case last > 0:
		return "photos " + strings.Join(numbers[:last], ", ") + " and " + numbers[last]
	case last == 0:
		return "photo " + numbers[0]
	}
	return "no photo"
}

// saysVerb is the verb that goes with them.
func (n *Inspection) saysVerb(photos []record.ID, one, many string) string {
	r, count := n.Record(), 0
	for _, id := range photos {
		if _, ok := r.Photos[id]; ok {
			count++
		}
	}
	if count == 1 {
		return one
	}
	return many
}

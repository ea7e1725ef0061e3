package inspection

import (
	"fmt"
	"slices"
	"strings"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// Wanted is one thing that an adjuster looks for among the photos of a claim.
type Wanted struct {
	View term.View
	// Part is the part of which it is wanted, empty for the unit as a whole.
	Part record.ID
	// Photos are those that show it, in the order of their numbers.
	Photos []record.ID
	// Done is whether it is all there; Lacks says what is not.
	Done  bool
	Lacks string
}

// ClaimWants lists what a warranty claim wants to be photographed, as far as it is
// there: for the unit its identity plate and what it has done; for each part that
// is condemned, or has findings where none is, the part in its place, whole, in
// detail with a scale, and its stamped number. It fills itself from what photos
// show, from outlines and from scales; only what nothing else tells has to be said
// of a photo.
func (n *Inspection) ClaimWants() []Wanted {
	r := n.Record()
	wants := []Wanted{n.wantsPlate(r), n.wantsService(r)}
	for _, part := range n.claimed(r) {
		for _, view := range []term.View{term.InPlace, term.WholePart, term.Detail, term.StampedNumber} {
			wants = append(wants, n.wantsOf(r, part, view))
		}
	}
	return wants
}

// claimed are the parts that a claim is about.
func (n *Inspection) claimed(r *record.Record) []record.ID {
	var condemned, found []record.ID
	a := n.Assessment()
	for i := range a.Parts {
		part := &a.Parts[i]
		switch {
		case part.Consumable || r.Parts[part.ID].State == term.Missing:
		case part.Verdict == term.Condemned:
			condemned = append(condemned, part.ID)
		case hasFinding(r, part.ID):
			found = append(found, part.ID)
		}
	}
	if len(condemned) > 0 {
		return condemned
	}
	return found
}

func hasFinding(r *record.Record, part record.ID) bool {
	for _, f := range r.Findings {
		if f.Part == part && f.Withdrawn == "" && f.Severity != term.NotFound {
			return true
		}
	}
	return false
}

func (n *Inspection) wantsPlate(r *record.Record) Wanted {
	w := Wanted{View: term.IdentityPlate}
	w.Photos, w.Lacks = photosThat(r, func(_ record.ID, p record.Photo) bool { return p.Shows == term.IdentityPlate })
	if r.Owner.Claim == "" {
		w.Lacks = "the claim number is not entered"
	}
	w.Done = w.Lacks == ""
	return w
}

func (n *Inspection) wantsService(r *record.Record) Wanted {
	w := Wanted{View: term.ServiceMeter}
	w.Photos, _ = photosThat(r, func(_ record.ID, p record.Photo) bool { return p.Shows == term.ServiceMeter })
	if r.Unit.Service == "" {
		w.Lacks = "hours or distance are not entered"
	}
	w.Done = w.Lacks == ""
	return w
}

// wantsOf looks for one view of a part.
func (n *Inspection) wantsOf(r *record.Record, part record.ID, view term.View) Wanted {
	w := Wanted{View: view, Part: part}
	w.Photos, w.Lacks = photosThat(r, func(id record.ID, p record.Photo) bool {
		return ofPart(p, part) && (p.Shows == view || (p.Shows == "" && n.tells(r, id, p, part, view)))
	})
	switch {
	case w.Lacks == noPhoto && view == term.Detail:
		w.Lacks = "no photo with an outline of a finding"
	case w.Lacks != "":
	case view == term.Detail && !slices.ContainsFunc(w.Photos, func(id record.ID) bool { return scaled(r, id) }):
		w.Lacks = "no scale on the photo"
	}
	w.Done = w.Lacks == ""
	return w
}

// tells reports whether a photo of which nobody said what it is for can be told to
// be a view of a part.
func (n *Inspection) tells(r *record.Record, id record.ID, p record.Photo, part record.ID, view term.View) bool {
	outlined := false
	for _, o := range r.Outlines {
		if f, ok := r.Findings[o.Finding]; ok && o.Photo == id && f.Part == part && f.Withdrawn == "" {
			outlined = true
		}
	}
	switch view {
	case term.Detail:
		return outlined
	case term.WholePart:
		return !outlined && slices.Contains(p.Subjects, record.Subject{Part: part}) && len(p.Subjects) == 1
	case term.InPlace:
		return p.Stage == term.AsFound && slices.ContainsFunc(p.Subjects, func(s record.Subject) bool { return s.Part != part })
	}
	return false
}

func ofPart(p record.Photo, part record.ID) bool {
	return slices.ContainsFunc(p.Subjects, func(s record.Subject) bool { return s.Part == part })
}

func scaled(r *record.Record, photo record.ID) bool {
	for _, o := range r.Outlines {
		if o.Photo == photo && o.Known != (record.Known{}) {
			return true
		}
	}
	return false
}

// photosThat are those of the report: the adjuster sees no others.
// What lacks where there are none is said too.
func photosThat(r *record.Record, fits func(record.ID, record.Photo) bool) (ids []record.ID, lacks string) {
	lacks = noPhoto
	for id, p := range record.InOrder(r.Photos) {
		switch {
		case !fits(id, p):
		case p.LeftOut == "":
			ids = append(ids, id)
		default:
			lacks = fmt.Sprintf("photo %d is left out of the report", p.Number)
		}
	}
	if len(ids) > 0 {
		lacks = ""
	}
	return ids, lacks
}

const noPhoto = "no photo shows it"

// ShowView notes what an adjuster looks for in photos, of a part or of the whole
// unit (part empty), as one gesture. An empty view takes it back.
func (n *Inspection) ShowView(photos []record.ID, view term.View, part record.ID) error {
	says := n.SaysPhotos(photos) + ": " + strings.ToLower(firstOf(term.Plain(view), "nothing in particular"))
	if part != "" {
		says = fmt.Sprintf("%s of %s", says, strings.ToLower(n.PartName(part)))
	}
	return n.changePhotos(photos, says, func(p *record.Photo) {
		p.Shows = view
		if part != "" && view != "" {
			p.Subjects = withSubject(p.Subjects, record.Subject{Part: part})
		}
	})
}

package inspection

import (
	"context"
	"fmt"
	"maps"
	"path/filepath"
	"slices"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// teller lays out one core of the demo's story.
type teller struct {
	bench  *Bench
	core   storyCore
	photos []storyPhoto
	folder string

	n *Inspection
	// parts by their place, photo entries by the name of their file.
	parts map[string]record.ID
	files map[string]record.ID
}

func (t *teller) tell(ctx context.Context) (*Inspection, error) {
	c := t.core
	r := record.New(c.Unit, c.Duty)
	r.Owner, r.Complaint, r.Dates, r.People = c.Owner, c.Complaint, c.Dates, c.People
	var err error
	if t.n, err = t.bench.Begin(ctx, r); err != nil {
		return nil, err
	}
	for id, p := range t.n.Record().Parts {
		t.parts[p.Place] = id
	}
	steps := []func(context.Context) error{t.trays, t.attach, t.soundOnes, t.findings, t.scales, t.readings, t.workings, t.fits, t.judged}
	for _, step := range steps {
		if err := step(ctx); err != nil {
			return nil, err
		}
	}
	return t.n, t.n.Flush(ctx)
}

func (t *teller) part(place string) (record.ID, error) {
	id, ok := t.parts[place]
	if !ok {
		return "", fmt.Errorf("there is no place %q", place)
	}
	return id, nil
}

// trays says what lies in each tray.
func (t *teller) trays(context.Context) error {
	for _, p := range t.core.Part {
		id, err := t.part(p.Place)
		if err != nil {
			return err
		}
		says := "tray of " + t.n.PartName(id)
		err = t.n.Do(record.ChangePart(says, id, func(entry *record.Part) {
			entry.Tag, entry.Note, entry.Count = p.Tag, p.Note, p.Count
			if p.Variant != "" {
				entry.Variant = p.Variant
			}
			if p.State != "" {
				entry.State = p.State
			}
			looked := map[string]record.Looked{}
			for surface, l := range p.Looked {
				looked[surface] = record.Looked{Eye: l.Looked, Touch: l.Felt, Clean: l.Clean, By: t.bench.Who()}
			}
			if len(looked) > 0 {
				entry.Surfaces = map[string]record.Looked{}
				maps.Copy(entry.Surfaces, looked)
			}
		}))
		if err != nil {
			return err
		}
	}
	return nil
}

// attach takes the core's photos in, one at a time as they were taken.
func (t *teller) attach(ctx context.Context) error {
	stages := map[string]term.Stage{"found": term.AsFound, "cleaned": term.Cleaned}
	for _, p := range t.photos {
		if p.Core != t.core.Unit.Serial {
			continue
		}
		id, err := t.part(p.Place)
		if err != nil {
			return err
		}
		subjects := []record.Subject{{Part: id, Surface: p.Surface}}
		job := t.n.AttachPhotos(ctx, subjects, stages[p.Stage], []string{filepath.Join(t.folder, filepath.FromSlash(p.File))})
		if err := job.Wait(); err != nil {
			return err
		}
		for _, f := range job.Failed() {
			return f.Err
		}
		t.files[p.File] = job.Taken()[0]
	}
	return nil
}

func (t *teller) soundOnes(context.Context) error {
	for _, place := range t.core.Sound {
		id, err := t.part(place)
		if err != nil {
			return err
		}
		if err := t.n.WholePartSound(id); err != nil {
			return err
		}
	}
	return nil
}

// findings draws the outlines and says what they show.
func (t *teller) findings(context.Context) error {
	for _, f := range t.core.Finding {
		id, err := t.part(f.Place)
		if err != nil {
			return err
		}
		finding, err := t.n.AddFinding(FindingEntry{Finding: record.Finding{
			Part: id, Surface: f.Surface, Damage: f.Damage, Severity: f.Severity, Zone: f.Zone,
			Method: f.Method, Tooth: f.Tooth, Flank: f.Flank, Note: f.Note,
		}})
		if err != nil {
			return err
		}
		if err := t.outline(f, finding); err != nil {
			return err
		}
	}
	return nil
}

func (t *teller) outline(f storyFinding, finding record.ID) error {
	if f.Photo == "" {
		return nil
	}
	for _, p := range t.photos {
		if p.File != f.Photo {
			continue
		}
		for _, m := range p.Marks {
			if len(m.Outline) < 3 {
				continue
			}
			outline := record.Outline{Photo: t.files[p.File], Finding: finding, Shape: record.Polygon, Points: m.Outline}
			if _, err := t.n.AddOutline(outline); err != nil {
				return err
			}
		}
		return nil
	}
	return fmt.Errorf("there is no photo %q", f.Photo)
}

func (t *teller) readings(context.Context) error {
	for _, m := range t.core.Reading {
		id, err := t.part(m.Place)
		if err != nil {
			return err
		}
		values := make([]record.Value, len(m.Values))
		for i, text := range m.Values {
			values[i] = record.Value{Text: text}
		}
		says := fmt.Sprintf("%s of %s measured", term.Plain(term.Role(m.Dimension)), t.n.PartName(id))
		err = t.n.Do(record.AddReading(says, record.NewID(), record.Reading{
			Part: id, Surface: m.Surface, Dimension: m.Dimension, Values: values, Unit: m.Unit,
			Instrument: m.Instrument, By: t.bench.Who(), At: t.bench.meta().At,
		}))
		if err != nil {
			return err
		}
	}
	return nil
}

func (t *teller) workings(context.Context) error {
	for _, w := range t.core.Working {
		id, err := t.part(w.Place)
		if err != nil {
			return err
		}
		all := t.bench.Gauges().Instruments
		at := slices.IndexFunc(all, func(in record.Instrument) bool { return in.Serial == w.Instrument })
		if at < 0 {
			return fmt.Errorf("the shop has no instrument %q", w.Instrument)
		}
		err = t.n.Do(t.n.KeepWorking(record.NewID(), record.Working{
			Part: id, Surface: w.Surface, What: w.What, Entries: w.Entries, Unit: w.Unit,
			Instrument: all[at], Manual: w.Manual, Page: w.Page, By: t.bench.Who(), At: t.bench.meta().At,
		}))
		if err != nil {
			return err
		}
	}
	return nil
}

func (t *teller) fits(context.Context) error {
	for _, f := range t.core.Fit {
		a, err := t.part(f.A)
		if err != nil {
			return err
		}
		b, err := t.part(f.B)
		if err != nil {
			return err
		}
		says := fmt.Sprintf("trial fit of %s and %s", t.n.PartName(a), t.n.PartName(b))
		err = t.n.Do(record.AddTrialFit(says, record.NewID(), record.TrialFit{
			Pair: f.Pair, Outcome: f.Outcome, Note: f.Note, By: t.bench.Who(),
			A: record.PartOf{Record: t.n.ID(), Part: a}, B: record.PartOf{Record: t.n.ID(), Part: b},
		}))
		if err != nil {
			return err
		}
	}
	return nil
}

func (t *teller) judged(context.Context) error {
	for _, o := range t.core.Override {
		id, err := t.part(o.Place)
		if err != nil {
			return err
		}
		says := fmt.Sprintf("%s judged %s by %s", t.n.PartName(id), o.Verdict, t.bench.Who())
		err = t.n.Do(record.SetOverride(says, record.NewID(), record.Override{
			Part: id, Surface: o.Surface, Verdict: o.Verdict, Reason: o.Reason, By: t.bench.Who(),
		}))
		if err != nil {
			return err
		}
	}
	for _, in := range t.core.Installed {
		says := "installed: " + in.What
		if err := t.n.Do(record.AddInstalled(says, record.NewID(), record.Installed{Place: in.Place, What: in.What, Note: in.Note})); err != nil {
			return err
		}
	}
	return nil
}

// Package report lays out the condition report of one core: what becomes of it,
// the grade of every part with its reasons, the photos with the outlines over
// them, what was not looked at, and cautions.
//
// It takes a record and its assessment and judges nothing itself. Three people
// read the report, and each gets a version: the customer, the warranty adjuster
// and the rebuilder's own archive.
package report

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/report/pdf"
)

// Reader is who a report is for.
type Reader string

// The readers.
const (
	Customer Reader = "customer"
	Warranty Reader = "warranty"
	Archive  Reader = "archive"
)

// Readers lists the readers.
var Readers = []Reader{Customer, Warranty, Archive}

// Shop is whose report it is, as it is printed. All of it may be empty.
type Shop struct {
	Name    string `json:"name,omitzero"`
	Address string `json:"address,omitzero"`
	Contact string `json:"contact,omitzero"`
}

// ErrMissing says that there is no original of a photo, and no view of it either.
var ErrMissing = errors.New("the original is missing")

// Order says what is to be reported, to whom and how.
type Order struct {
	Reader     Reader
	Paper      pdf.Paper
	Record     *record.Record
	Assessment *assess.Assessment
	// Named says which part one end of a trial fit is.
	Named func(record.PartOf) string
	// Causes puts what the findings are consistent with into the customer's report
	// too; the others have it always.
	Causes bool
	// History is printed for the warranty adjuster; its last entry dates the report.
	History []record.Entry
	Shop    Shop
	Fonts   pdf.Fonts
	// Drawings draws the unit and its parts; without it, boxes stand for the parts.
	Drawings Drawings
	// Creator is the program and its version.
	Creator string
	// Preview gives the reduced view of a photo as JPEG, turned as the file is stored;
	// an error of a photo that is gone is an [ErrMissing].
	Preview func(ctx context.Context, hash record.Hash) ([]byte, error)
	// Missed, if set, is told of each photo that could not be printed and why; its
	// place says so.
	Missed func(ph record.Photo, err error)
	// Progress, if set, is told how many pictures of how many are in.
	Progress func(done, total int)
}

// Write writes the report as a PDF. The same order gives the same bytes: the
// report is dated by the record's last change and no clock is read. What was
// written before an error is no PDF.
func Write(ctx context.Context, w io.Writer, o Order) error {
	created, err := o.dated()
	if err != nil {
		return err
	}
	leftOut := o.withoutLeftOut()
	total := len(o.Record.Photos)
	p := &pages{ctx: ctx, order: o, leftOut: leftOut}
	p.doc, err = pdf.New(w, pdf.Options{
		Title:   "Condition report: " + o.Record.Unit.Says(),
		Author:  o.Shop.Name,
		Subject: o.Reader.says(),
		Creator: o.Creator, Created: created, Paper: o.Paper, Fonts: o.Fonts,
		Decorate: p.decorate,
		Progress: func(_, pictures int) {
			if o.Progress != nil {
				o.Progress(min(pictures, total), total)
			}
		},
	})
	if err != nil {
		return fmt.Errorf("begin the report: %w", err)
	}
	p.collect()
	p.front()
	p.frontPages = p.doc.Pages()
	p.parts()
	p.rest()
	p.closing()
	if p.err != nil {
		return fmt.Errorf("lay out the report: %w", p.err)
	}
	if err := p.doc.Close(ctx); err != nil {
		return fmt.Errorf("write the report: %w", err)
	}
	return nil
}

func (o Order) dated() (time.Time, error) {
	if len(o.History) == 0 {
		return time.Time{}, errors.New("the record has no history yet: save it first")
	}
	at, err := o.History[len(o.History)-1].At.Time()
	if err != nil {
		return time.Time{}, fmt.Errorf("the last entry of the history: %w", err)
	}
	return at, nil
}

func (r Reader) says() string {
	switch r {
	case Warranty:
		return "Condition report with evidence, for the warranty adjuster"
	case Archive:
		return "Condition report, for the shop's own archive"
	}
	return "Condition report, for the customer"
}

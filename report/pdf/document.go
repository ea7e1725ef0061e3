package pdf

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/jung-kurt/gofpdf"
)

// Options say what a document is and how it is decorated.
type Options struct {
	// Title stands in the reader's window and, with Author and Subject, among
	// the file's properties. Creator is the program and its version.
	Title, Author, Subject, Creator string
	// Created is the date that the file carries. It is required: the same
	// document must give the same bytes, so no clock is read.
	Created time.Time
	// Lang is the language of the text as a BCP 47 tag; "en" if empty.
	Lang string
	// Paper is the size of all pages; A4 if zero.
	Paper Paper
	Fonts Fonts
	// Decorate, if set, is called by Close for every page once all are there, to
	// draw what needs the number of pages: headers, footers, "page n of m".
	Decorate func(p *Page, number, of int)
	// Progress, if set, is told how many pages have been begun and how many
	// pictures written, whenever one of them changes.
	Progress func(pages, pictures int)
}

// Document is a PDF file in the making. It is not safe for concurrent use.
type Document struct {
	options   Options
	out       *output
	f         *gofpdf.Fpdf
	faces     *faces
	pages     []*Page
	pictures  []*Picture
	byKey     map[string]*Picture
	bookmarks []bookmark
	linked    []*Anchor
	err       error
	closed    bool
}

// Page is one page. It can be drawn on until the document is closed, also after
// later pages have been begun.
type Page struct {
	Number        int // from 1
	Width, Height float64
	// Label is the caller's own, such as a running title for Decorate.
	Label string

	d *Document
}

// New begins a document that is written to w as it grows. What is in w after an
// error is no PDF; the caller throws it away.
func New(w io.Writer, o Options) (*Document, error) {
	if o.Created.IsZero() {
		return nil, errors.New("a document needs the date of its creation")
	}
	if o.Paper == (Paper{}) {
		o.Paper = A4
	}
	if !drawable(o.Paper.Width, o.Paper.Height) || o.Paper.Width < 1 || o.Paper.Height < 1 {
		return nil, fmt.Errorf("paper of %g x %g mm cannot be printed on", o.Paper.Width, o.Paper.Height)
	}
	if o.Lang == "" {
		o.Lang = "en"
	}
	faces, err := newFaces(o.Fonts)
	if err != nil {
		return nil, err
	}
	d := &Document{options: o, out: newOutput(w), faces: faces, byKey: map[string]*Picture{}}
	d.f = gofpdf.NewCustom(&gofpdf.InitType{
		OrientationStr: "P",
		UnitStr:        "mm",
		Size:           gofpdf.SizeType{Wd: o.Paper.Width, Ht: o.Paper.Height},
	})
	d.f.SetMargins(0, 0, 0)
	d.f.SetAutoPageBreak(false, 0)
	d.f.SetCatalogSort(true)
	d.f.SetCreationDate(o.Created)
	d.f.SetModificationDate(o.Created)
	// The second line tells programs that move files that this one is binary.
	d.out.printf("%%PDF-1.7\n%%\xE2\xE3\xCF\xD3\n")
	return d, d.failure()
}

// NewPage begins the next page.
func (d *Document) NewPage(ctx context.Context) (*Page, error) {
	if err := d.proceed(ctx); err != nil {
		return nil, err
	}
	d.f.AddPage()
	if err := d.failure(); err != nil {
		return nil, err
	}
	p := &Page{Number: d.f.PageCount(), Width: d.options.Paper.Width, Height: d.options.Paper.Height, d: d}
	d.pages = append(d.pages, p)
	d.report()
	return p, nil
}

// Pages is how many pages have been begun.
func (d *Document) Pages() int { return len(d.pages) }

// Err is the first thing that went wrong, or nil.
func (d *Document) Err() error { return d.failure() }

// Close decorates the pages, writes what is left of the file and gives the
// first error of the whole document. The document is of no use afterwards.
func (d *Document) Close(ctx context.Context) error {
	if err := d.proceed(ctx); err != nil {
		d.closed = true
		return err
	}
	if len(d.pages) == 0 {
		d.fail("a document needs at least one page")
	}
	if decorate := d.options.Decorate; decorate != nil {
		for _, p := range d.pages {
			if err := d.proceed(ctx); err != nil {
				d.closed = true
				return err
			}
			decorate(p, p.Number, len(d.pages))
		}
	}
	for _, a := range d.linked {
		if a.page == nil {
			d.fail("a link leads to an anchor that was never set on a page")
		}
	}
	if d.failure() == nil {
		d.f.SetPage(len(d.pages))
		d.keep(d.finish(ctx))
	}
	err := d.failure()
	d.closed = true
	return err
}

// proceed checks that there is a point in going on.
func (d *Document) proceed(ctx context.Context) error {
	if d.closed {
		return errors.New("the document is closed already")
	}
	if d.failure() == nil && ctx.Err() != nil {
		d.err = fmt.Errorf("writing the PDF was stopped: %w", context.Cause(ctx))
	}
	return d.err
}

// failure gathers the first error of this package, the output and gofpdf.
func (d *Document) failure() error {
	if d.err == nil && d.out.err != nil {
		d.err = fmt.Errorf("write the PDF: %w", d.out.err)
	}
	if d.err == nil && d.f != nil && d.f.Error() != nil {
		d.err = fmt.Errorf("lay out the PDF: %w", d.f.Error())
	}
	return d.err
}

func (d *Document) keep(err error) {
	if d.err == nil {
		d.err = err
	}
}

func (d *Document) fail(format string, args ...any) {
	d.keep(fmt.Errorf(format, args...))
}

func (d *Document) report() {
	if d.options.Progress != nil {
		d.options.Progress(len(d.pages), len(d.pictures))
	}
}

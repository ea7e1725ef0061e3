package inspection

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"

	"fettlebook/assess/archive"
	"fettlebook/assess/record"
	"fettlebook/assets"
	"fettlebook/report"
	"fettlebook/report/pdf"
)

// Version is the program's release, as reports and files name it.
const Version = "0.1.0"

// ReportOrder says which report of a record goes where.
type ReportOrder struct {
	// Reader is customer, warranty or archive; Paper is a4 or letter, a4 if empty.
	Reader string
	Paper  string
	Path   string
	// Causes puts what the findings are consistent with into a customer's report.
	Causes bool
}

// Report writes a report of the record as it stands.
func (n *Inspection) Report(ctx context.Context, o ReportOrder) *Job {
	return start(ctx, func(ctx context.Context, j *Job) error {
		if !n.bench.ReadOnly() {
			if err := n.Flush(ctx); err != nil {
				return fmt.Errorf("the report waits until all is saved: %w", err)
			}
		}
		order, err := n.order(ctx, o, j)
		if err != nil {
			return err
		}
		return writeWhole(o.Path, func(w io.Writer) error { return report.Write(ctx, w, order) })
	})
}

func (n *Inspection) order(ctx context.Context, o ReportOrder, j *Job) (report.Order, error) {
	history, err := n.bench.History(ctx, n.ID())
	if err != nil {
		return report.Order{}, err
	}
	reader, err := readerOf(o.Reader)
	if err != nil {
		return report.Order{}, err
	}
	paper, err := paperOf(o.Paper)
	if err != nil {
		return report.Order{}, err
	}
	fonts, err := loadFonts()
	if err != nil {
		return report.Order{}, err
	}
	var shop report.Shop
	if err := n.bench.setting(ctx, shopSetting, &shop); err != nil {
		return report.Order{}, err
	}
	return report.Order{
		Reader: reader, Paper: paper, Record: n.Record(), Assessment: n.Assessment(), History: history,
		Named: n.EndName, Causes: o.Causes, Shop: shop, Fonts: fonts, Drawings: n.drawings(), Creator: "Fettlebook " + Version,
		Preview: func(ctx context.Context, hash record.Hash) ([]byte, error) {
			view, err := n.bench.viewBytes(ctx, hash, archive.Preview)
			if errors.Is(err, archive.ErrNotFound) {
				err = fmt.Errorf("%w: %w", report.ErrMissing, err)
			}
			return view, err
		},
		Missed: func(ph record.Photo, err error) {
			j.warn(fmt.Sprintf("photo %d (%s): %s", ph.Number, ph.Name, missedSays(err)))
		},
		Progress: func(done, total int) { j.at(done, total, "writing the report") },
	}, nil
}

// missedSays says why a photo is not in print; its place in the report says it too.
func missedSays(err error) string {
	if errors.Is(err, report.ErrMissing) {
		return "its original is missing"
	}
	return "its original can't be read"
}

func readerOf(word string) (report.Reader, error) {
	for _, r := range report.Readers {
		if string(r) == word {
			return r, nil
		}
	}
	return "", fmt.Errorf("%q is none that a report is written for; known are customer, warranty, archive", word)
}

func paperOf(word string) (pdf.Paper, error) {
	switch word {
	case "", "a4":
		return pdf.A4, nil
	case "letter":
		return pdf.Letter, nil
	}
	return pdf.Paper{}, fmt.Errorf("%q is not a paper; known are a4, letter", word)
}

// loadFonts reads the typeface of the reports out of the program.
func loadFonts() (pdf.Fonts, error) {
	var errs []error
	read := func(name string) []byte {
		b, err := fs.ReadFile(assets.Fonts(), name)
		errs = append(errs, err)
		return b
	}
	fonts := pdf.Fonts{
		Regular: read("NotoSans-Regular.ttf"), Bold: read("NotoSans-Bold.ttf"), Italic: read("NotoSans-Italic.ttf"),
		Fallback: [][]byte{read("DejaVuSans.ttf"), read("DroidSansFallbackFull.ttf")},
	}
	return fonts, errors.Join(errs...)
}

package inspection

import (
	"context"
	"errors"
	"image"
	"slices"
	"sync"

	"fettlebook/assess/record"
	"fettlebook/report/exchange"
)

// ExportOrder says as what a record is handed on, and where to.
type ExportOrder struct {
	// As is one of [ExportFormats].
	As string
	// Dir is the folder to write into; it is made where it is not there.
	Dir string
	// Photos are those that are handed on, where there is a file of each; all if empty.
	Photos []record.ID
}

// ExportFormats are what a record can be handed on as.
func ExportFormats() []string {
	formats := make([]string, len(exchange.Formats))
	for i, f := range exchange.Formats {
		formats[i] = string(f)
	}
	return formats
}

// Export is a job that hands a record on.
type Export struct {
	*Job
	mu    sync.Mutex
	files []string
}

// Files returns the names of the files that were written so far, also by a job that
// was stopped or failed.
func (e *Export) Files() []string {
	e.mu.Lock()
	defer e.mu.Unlock()
	return slices.Clone(e.files)
}

var errNoPhotos = errors.New("the photos are not in a record's JSON file; name the record in the archive")

// Export hands the record as it stands on to other programs.
func (n *Inspection) Export(ctx context.Context, o ExportOrder) *Export {
	e := &Export{}
	ready := make(chan struct{})
	e.Job = start(ctx, func(ctx context.Context, j *Job) error {
		<-ready
		files, err := exchange.Write(ctx, n.exchanged(o, j), exchange.Format(o.As), o.Dir)
		e.mu.Lock()
		e.files = files
		e.mu.Unlock()
		return err
	})
	close(ready)
	return e
}

func (n *Inspection) exchanged(o ExportOrder, j *Job) exchange.Order {
	return exchange.Order{
		Record: n.Record(), Assessment: n.Assessment(), Photos: o.Photos, Creator: "Fettlebook " + Version,
		Picture: func(ctx context.Context, p record.Photo) (image.Image, error) {
			if n.bench.store == nil {
				return nil, errNoPhotos
			}
			return n.bench.Original(ctx, p)
		},
		Strip: func(ctx context.Context, p record.Photo) (exchange.Copy, error) {
			if n.bench.store == nil {
				return exchange.Copy{}, errNoPhotos
			}
			c, err := n.bench.Stripped(ctx, p)
			return exchange.Copy{JPEG: c.JPEG, Hash: string(c.Hash)}, err
		},
		Progress: func(done, total int) { j.at(done, total, "writing files") },
	}
}

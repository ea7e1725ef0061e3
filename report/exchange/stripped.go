package exchange

import (
	"context"
	"errors"
	"fmt"
	"io"

	"fettlebook/assess/record"
)

// Copy is a photo without the place where it was taken and the serial of the camera.
type Copy struct {
	JPEG []byte
	// Hash is the SHA-256 of the copy in hex; the record holds the original's.
	Hash string
}

// stripped makes a file of each photo, outlined or not, and a list that ties each
// copy to its original by both hashes. A photo of which no such copy can be made
// stands in the list with the reason, so that nothing is handed out by mistake.
func (o Order) stripped(ctx context.Context) ([]file, error) {
	if o.Strip == nil {
		return nil, errors.New("the photos are not at hand; name a record in the archive")
	}
	var files []file
	type line struct{ number, name, hash, original, why string }
	var lines []line
	for id, p := range record.InOrder(o.Record.Photos) {
		if !o.wants(id) {
			continue
		}
		entry := line{number: fmt.Sprint(p.Number), name: fmt.Sprintf("photo-%03d-stripped.jpg", p.Number), original: p.File}
		at := len(lines)
		lines = append(lines, entry)
		files = append(files, file{entry.name, func(w io.Writer) error {
			c, err := o.Strip(ctx, p)
			if err != nil {
				lines[at].name, lines[at].why = "", err.Error()
				return errLeftOut
			}
			lines[at].hash = c.Hash
			_, err = w.Write(c.JPEG)
			return err
		}})
	}
	if len(files) == 0 {
		return nil, errors.New("the record holds no photo")
	}
	return append(files, file{"stripped.csv", func(w io.Writer) error {
		t := newTable(w, "photo", "file", "sha256 of the copy", "sha256 of the original", "why there is none")
		for _, l := range lines {
			t.row(l.number, l.name, l.hash, l.original, l.why)
		}
		return t.end()
	}}), nil
}

// errLeftOut says that a file is not written, and that this is told elsewhere.
var errLeftOut = errors.New("left out")

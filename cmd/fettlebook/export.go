package main

import (
	"context"
	"errors"
	"fmt"
	"image"
	"path/filepath"
	"slices"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/report/exchange"
)

// exportCommand has no flag of its own for the format: --as says who in every other
// command, and nobody signs an export.
type exportCommand struct {
	Record string `arg:"" help:"Id or words of a record in the archive, or a record's JSON file."`
	Output string `short:"o" required:"" placeholder:"DIR" help:"The folder to write into; made where it is not there."`
}

// Help tells what --as means here.
func (exportCommand) Help() string {
	return "--as says as what: csv (findings, readings, extents), svg (outlines of each photo), coco or annotations (all outlines), " +
		"png or jpeg (photos with their outlines), stripped (copies of all photos without place and serial, with both hashes)."
}

var errNoPhotos = errors.New("the photos are not in a record's JSON file; name the record in the archive")

func (c *exportCommand) Run(ctx context.Context, g *Globals) error {
	as := exchange.Format(g.As)
	if !slices.Contains(exchange.Formats, as) {
		return fmt.Errorf("say with --as what it is exported as: csv, svg, coco, annotations, png, jpeg or stripped, not %q", g.As)
	}
	g.As = ""
	n, done, err := g.look(ctx, c.Record)
	if err != nil {
		return err
	}
	defer done()
	names, err := exchange.Write(ctx, exchange.Order{
		Record: n.Record(), Assessment: n.Assessment(), Creator: "Fettlebook " + inspection.Version,
		Picture: func(ctx context.Context, p record.Photo) (image.Image, error) {
			if n.Bench().Archive() == nil {
				return nil, errNoPhotos
			}
			return n.Bench().Original(ctx, p)
		},
		Strip: func(ctx context.Context, p record.Photo) (exchange.Copy, error) {
			if n.Bench().Archive() == nil {
				return exchange.Copy{}, errNoPhotos
			}
			c, err := n.Bench().Stripped(ctx, p)
			return exchange.Copy{JPEG: c.JPEG, Hash: string(c.Hash)}, err
		},
	}, as, c.Output)
	for _, name := range names {
		fmt.Println(filepath.Join(c.Output, name))
	}
	return err
}

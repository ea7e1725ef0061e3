package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"

	"fettlebook/assess/inspection"
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

func (c *exportCommand) Run(ctx context.Context, g *Globals) error {
	as := g.As
	if !slices.Contains(inspection.ExportFormats(), as) {
		return fmt.Errorf("say with --as what it is exported as: csv, svg, coco, annotations, png, jpeg or stripped, not %q", as)
	}
	g.As = ""
	n, done, err := g.look(ctx, c.Record)
	if err != nil {
		return err
	}
	defer done()
	job := n.Export(ctx, inspection.ExportOrder{As: as, Dir: c.Output})
	err = job.Wait()
	for _, name := range job.Files() {
		fmt.Println(filepath.Join(c.Output, name))
	}
	return err
}

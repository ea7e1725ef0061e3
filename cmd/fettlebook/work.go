package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// look opens a record to look at it: one in the archive, or a JSON file.
func (g *Globals) look(ctx context.Context, name string) (*inspection.Inspection, func(), error) {
	if info, err := os.Stat(name); err == nil && info.Mode().IsRegular() {
		dir, err := g.dir()
		if err != nil {
			return nil, nil, err
		}
		n, err := inspection.ReadFile(name, dir)
		return n, func() {}, err
	}
	b, err := g.read(ctx)
	if err != nil {
		return nil, nil, err
	}
	n, err := b.Named(ctx, name)
	if err != nil {
		return nil, nil, errors.Join(err, b.Close())
	}
	return n, func() { b.Close() }, nil
}

type reportCommand struct {
	Record string `arg:"" help:"Id or words of a record in the archive."`
	For    string `required:"" enum:"customer,warranty,archive,bench" help:"Who reads it: customer, warranty or archive; bench prints cards to be filled in at the bench."`
	Paper  string `enum:"a4,letter" default:"a4" help:"a4 or letter."`
	Causes bool   `help:"Tell a customer too what the findings are consistent with."`
	Output string `short:"o" required:"" placeholder:"FILE.pdf" help:"The file to write."`
}

func (c *reportCommand) Run(ctx context.Context, g *Globals) error {
	b, err := g.read(ctx)
	if err != nil {
		return err
	}
	defer b.Close()
	n, err := b.Named(ctx, c.Record)
	if err != nil {
		return err
	}
	write := n.Report
	if c.For == "bench" {
		write = n.Cards
	}
	job := write(ctx, inspection.ReportOrder{Reader: c.For, Paper: c.Paper, Path: c.Output, Causes: c.Causes})
	if err := job.Wait(); err != nil {
		return err
	}
	if gone := job.Warnings(); len(gone) > 0 {
		fmt.Fprintf(os.Stderr, "fettlebook: printed without %s\n", strings.Join(gone, "; "))
	}
	fmt.Println(c.Output)
	return nil
}

type photosCommand struct {
	Record string     `arg:"" help:"Id or words of a record in the archive."`
	Part   string     `arg:"" help:"The part: its place, tag, name or id."`
	Files  []string   `arg:"" help:"Photo files, or folders of them."`
	Stage  term.Stage `help:"When they were taken: as-found, cleaned, repaired or installed."`
}

func (c *photosCommand) Run(ctx context.Context, g *Globals) (err error) {
	b, err := g.write(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, b.Close()) }()
	n, err := b.Named(ctx, c.Record)
	if err != nil {
		return err
	}
	part, err := n.PartNamed(c.Part)
	if err != nil {
		return err
	}
	job := n.AttachPhotos(ctx, []record.Subject{{Part: part}}, c.Stage, c.Files)
	if err := job.Wait(); err != nil {
		return err
	}
	for _, id := range job.Taken() {
		p := n.Record().Photos[id]
		fmt.Printf("photo %d: %s\n", p.Number, p.Name)
	}
	failed := job.Failed()
	for _, f := range failed {
		fmt.Fprintf(os.Stderr, "fettlebook: %v\n", f.Err)
	}
	if len(failed) > 0 {
		return fmt.Errorf("%d of %d photos were not taken in", len(failed), len(failed)+len(job.Taken()))
	}
	return nil
}

type importCommand struct {
	File string `arg:"" help:"A record's JSON file."`
}

func (c *importCommand) Run(ctx context.Context, g *Globals) (err error) {
	b, err := g.write(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, b.Close()) }()
	n, err := b.Import(ctx, c.File)
	if err != nil {
		return err
	}
	fmt.Println(n.ID())
	return nil
}

type specsCommand struct {
	List  specsListCommand  `cmd:"" default:"1" help:"The specs in force."`
	Check specsCheckCommand `cmd:"" help:"Check specs of one's own."`
}

type specsListCommand struct{}

func (specsListCommand) Run(g *Globals) error {
	dir, err := g.dir()
	if err != nil {
		return err
	}
	set, problems, err := inspection.LoadSpecs(filepath.Join(dir, "specs"))
	if err != nil {
		return err
	}
	for _, u := range set.Units() {
		fmt.Printf("unit  %-22s %s (%d places; %s)\n", u.ID, u.Name, len(u.Places), set.From("unit", u.ID))
	}
	for _, k := range set.Kinds() {
		fmt.Printf("kind  %-22s %s (%d surfaces; %s)\n", k.ID, k.Name, len(k.Surfaces), set.From("kind", k.ID))
	}
	fmt.Printf("%d rules, %d kinds of trial fit\n", len(set.Rules()), len(set.Pairs()))
	for _, p := range problems {
		fmt.Fprintf(os.Stderr, "fettlebook: refused: %v\n", p)
	}
	return nil
}

type specsCheckCommand struct {
	Files []string `arg:"" optional:"" help:"TOML files; the archive's own specs folder if none are named."`
}

func (c *specsCheckCommand) Run(g *Globals) error {
	dir, err := g.dir()
	if err != nil {
		return err
	}
	problems, err := inspection.CheckSpecs(filepath.Join(dir, "specs"), c.Files)
	if err != nil {
		return err
	}
	for _, p := range problems {
		fmt.Fprintf(os.Stderr, "fettlebook: %v\n", p)
	}
	if len(problems) > 0 {
		return fmt.Errorf("%d problems in the specs", len(problems))
	}
	fmt.Println("no problems")
	if len(c.Files) > 0 {
		return nil
	}
	set, _, err := inspection.LoadSpecs(filepath.Join(dir, "specs"))
	if err != nil {
		return err
	}
	printCoverage(set.Coverage())
	return nil
}

// printCoverage tells how far the rules speak of what may occur.
func printCoverage(c spec.Coverage) {
	fmt.Printf("%d cases covered (%d by a reviewed row), %d cannot occur, %d not covered\n",
		c.Covered, c.Reviewed, c.CannotOccur, len(c.Gaps))
	fmt.Println("a worse severity, a larger share or a harder demand is nowhere judged more kindly")
	for _, g := range c.Gaps {
		fmt.Printf("not covered: %s.%s, %s, %s, %s\n", g.Kind, g.Surface, g.Damage, g.Severity, g.Zone)
	}
}

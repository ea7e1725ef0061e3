package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"fettlebook/assess/archive"
	"fettlebook/assess/inspection"
)

type archiveCommand struct {
	Verify  verifyCommand  `cmd:"" help:"Read everything and report all that is damaged."`
	Backup  backupCommand  `cmd:"" help:"Copy the archive to another folder, also while it is in use."`
	Rebuild rebuildCommand `cmd:"" help:"Make a damaged database again from what is left."`
}

type backupCommand struct {
	To string `arg:"" type:"path" help:"The folder of the copy; a second run writes only what is new."`
}

func (c *backupCommand) Run(ctx context.Context, g *Globals) error {
	dir, err := g.dir()
	if err != nil {
		return err
	}
	if err := archive.Backup(ctx, dir, c.To, nil); err != nil {
		return err
	}
	fmt.Println(c.To)
	return nil
}

type rebuildCommand struct{}

func (rebuildCommand) Run(ctx context.Context, g *Globals) error {
	dir, err := g.dir()
	if err != nil {
		return err
	}
	lost, err := inspection.Rebuild(ctx, dir, g.As)
	if err != nil {
		return err
	}
	for _, d := range lost {
		fmt.Fprintf(os.Stderr, "fettlebook: %s\n", d.Text)
	}
	if len(lost) > 0 {
		return fmt.Errorf("the database was made again; %d things could not be brought back", len(lost))
	}
	fmt.Println("the database was made again, and nothing was lost")
	return nil
}

type verifyCommand struct{}

func (verifyCommand) Run(ctx context.Context, g *Globals) error {
	b, err := g.read(ctx)
	if err != nil {
		return err
	}
	defer b.Close()
	damages, err := b.Archive().Verify(ctx, nil)
	if err != nil {
		return err
	}
	for _, d := range damages {
		fmt.Fprintf(os.Stderr, "fettlebook: %s\n", d.Text)
	}
	if len(damages) > 0 {
		return fmt.Errorf("%d things in the archive are damaged", len(damages))
	}
	fmt.Println("everything in the archive is whole")
	return nil
}

type demoCommand struct {
	NoWindow bool `help:"Lay out the demo and write its report only."`
}

func (c *demoCommand) Run(ctx context.Context, g *Globals) error {
	if g.Archive == "" {
		dir, err := userFolder("demo")
		if err != nil {
			return err
		}
		g.Archive = dir
	}
	report, err := layOutDemo(ctx, g)
	if err != nil {
		return err
	}
	fmt.Printf("The demo archive is in %s\nIts report is %s\n", g.Archive, report)
	if c.NoWindow {
		return nil
	}
	return openWindow(ctx, g)
}

// layOutDemo lays the demo out where it is not there yet, and writes the
// customer's report of its first core beside it.
func layOutDemo(ctx context.Context, g *Globals) (string, error) {
	b, err := g.write(ctx)
	if err != nil {
		return "", err
	}
	first, err := b.LayOutDemo(ctx)
	if err != nil {
		b.Close()
		return "", err
	}
	path := filepath.Join(g.Archive, "reports", "condition-report.pdf")
	if err := first.Report(ctx, inspection.ReportOrder{Reader: "customer", Path: path}).Wait(); err != nil {
		b.Close()
		return "", err
	}
	return path, b.Close()
}

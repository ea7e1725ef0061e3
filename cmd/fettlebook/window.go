//go:build !headless

package main

import (
	"context"
	"errors"

	"fettlebook/assess/inspection"
	"fettlebook/assets"
	"fettlebook/ui"
)

type windowCommand struct{}

func (windowCommand) Run(ctx context.Context, g *Globals) error { return openWindow(ctx, g) }

// openWindow opens the window on the archive, to look at only where another
// program has it open.
func openWindow(ctx context.Context, g *Globals) error {
	b, err := g.either(ctx)
	if err != nil {
		return err
	}
	err = ui.Run(ctx, ui.Options{Bench: b, Icon: assets.Icon(), Version: inspection.Version})
	return errors.Join(err, b.Close())
}

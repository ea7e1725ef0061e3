//go:build !headless

package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"fettlebook/assess/archive"
	"fettlebook/assess/inspection"
	"fettlebook/assets"
	"fettlebook/cmd/fettlebook/locale"
	"fettlebook/ui"
)

func init() { locale.Restore() }

type windowCommand struct{}

func (windowCommand) Run(ctx context.Context, g *Globals) error { return openWindow(ctx, g) }

// openWindow opens the window on the archive, to look at only where another
// program has it open.
func openWindow(ctx context.Context, g *Globals) error {
	if err := haveScreen(); err != nil {
		return err
	}
	b, err := g.either(ctx)
	if err != nil {
		return err
	}
	settings, keep := windowSettings()
	err = ui.Run(ctx, ui.Options{
		Bench: b, Icon: assets.Icon(), Version: inspection.Version, Named: g.As != "", Settings: settings, KeepSettings: keep,
	})
	return errors.Join(err, b.Close())
}

// windowSettings reads what only the window needs (size, shade, unit) from the
// user's configuration folder. Without such a folder nothing is kept.
func windowSettings() ([]byte, func([]byte) error) {
	folder, err := os.UserConfigDir()
	if err != nil {
		return nil, nil
	}
	path := filepath.Join(folder, "fettlebook", "window.json")
	settings, err := os.ReadFile(path)
	if err != nil {
		settings = nil // the first time, or none that can be read: the window begins as new
	}
	return settings, func(b []byte) error {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return fmt.Errorf("the window's settings: %w", err)
		}
		return os.WriteFile(path, b, 0o644)
	}
}

// either opens the archive to change it, or to look at it where another program
// has it open.
func (g *Globals) either(ctx context.Context) (*inspection.Bench, error) {
	b, err := g.write(ctx)
	if errors.Is(err, archive.ErrInUse) {
		return g.read(ctx)
	}
	return b, err
}

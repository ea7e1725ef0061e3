//go:build headless

package main

import (
	"context"
	"errors"
)

type windowCommand struct{}

func (windowCommand) Run(ctx context.Context, g *Globals) error { return openWindow(ctx, g) }

func openWindow(context.Context, *Globals) error {
	return errors.New("this build has no window; see fettlebook --help for what it does without one")
}

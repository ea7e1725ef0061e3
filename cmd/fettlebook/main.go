// Fettlebook keeps the record of worn gearboxes: photos of every part, damage
// marked on them, a grade for every part with its reasons, and the condition
// report. Without a sub-command it opens the window.
package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"strings"

	"github.com/alecthomas/kong"

	"fettlebook/assess/inspection"
)

// The exit codes.
const (
	exitFailed = 1
	exitUsage  = 2
)

func main() { os.Exit(run()) }

func run() int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	var line commandLine
	parser, err := kong.New(&line,
		kong.Name("fettlebook"),
		kong.Description("The condition of worn gearboxes, on record. Without a command it opens the window."),
		kong.UsageOnError(), kong.Vars{"version": "Fettlebook " + inspection.Version},
		kong.BindTo(ctx, (*context.Context)(nil)),
	)
	if err != nil {
		return fail(err)
	}
	args := os.Args[1:]
	if len(args) > 0 && args[0] == "help" {
		args = append(args[1:], "--help")
	}
	kctx, err := parser.Parse(args)
	if err != nil {
		fmt.Fprintf(os.Stderr, "fettlebook: %v; see fettlebook --help\n", err)
		return exitUsage
	}
	if err := kctx.Run(&line.Globals); err != nil {
		return fail(err)
	}
	return 0
}

// fail prints one clear line.
func fail(err error) int {
	if errors.Is(err, context.Canceled) {
		err = errors.New("stopped")
	}
	fmt.Fprintln(os.Stderr, "fettlebook:", strings.ReplaceAll(err.Error(), "\n", "; "))
	return exitFailed
}

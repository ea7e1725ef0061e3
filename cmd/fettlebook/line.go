package main

import (
	"context"
	"errors"
	"os"
	"path/filepath"

	"github.com/alecthomas/kong"

	"fettlebook/assess/inspection"
)

// commandLine is what can be typed. A command that is not built is not here.
type commandLine struct {
	Globals

	Window  windowCommand  `cmd:"" default:"1" hidden:"" help:"Open the window."`
	Demo    demoCommand    `cmd:"" help:"Lay out the demo archive, write its report, then open it."`
	List    listCommand    `cmd:"" help:"The register."`
	Show    showCommand    `cmd:"" help:"A record's JSON."`
	Grade   gradeCommand   `cmd:"" help:"Verdicts, grades, remedies and reasons of a record."`
	Report  reportCommand  `cmd:"" help:"Write the condition report of a record."`
	Photos  photosCommand  `cmd:"" help:"Attach photos to a part."`
	Archive archiveCommand `cmd:"" help:"Look after the archive."`
	Export  exportCommand  `cmd:"" help:"Hand a record on: --as csv, svg, coco, annotations, png or jpeg."`
	Import  importCommand  `cmd:"" help:"Bring a record's JSON into the archive."`
	Specs   specsCommand   `cmd:"" help:"The specs in force, or check one's own."`
	Schema  schemaCommand  `cmd:"" help:"Print the JSON Schema of a record."`
}

// Globals are the flags of every command.
type Globals struct {
	Archive string           `help:"Folder of the archive." placeholder:"DIR" type:"path" env:"FETTLEBOOK_ARCHIVE"`
	As      string           `help:"Who is at work." placeholder:"NAME"`
	Version kong.VersionFlag `help:"Print the version."`
}

// dir is the folder of the archive: the one that was named, or the user's own.
func (g *Globals) dir() (string, error) {
	if g.Archive != "" {
		return g.Archive, nil
	}
	return userFolder("archive")
}

// userFolder is a folder of this program where a user's data belongs.
func userFolder(name string) (string, error) {
	if data := os.Getenv("XDG_DATA_HOME"); data != "" {
		return filepath.Join(data, "fettlebook", name), nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", errors.New("there is no home folder to keep the archive in; say where with --archive")
	}
	return filepath.Join(home, ".local", "share", "fettlebook", name), nil
}

// write opens the archive to change it.
func (g *Globals) write(ctx context.Context) (*inspection.Bench, error) {
	dir, err := g.dir()
	if err != nil {
		return nil, err
	}
	return inspection.Open(ctx, inspection.Options{Dir: dir, Who: g.As})
}

// read opens the archive to look at it, also while the window is open.
func (g *Globals) read(ctx context.Context) (*inspection.Bench, error) {
	dir, err := g.dir()
	if err != nil {
		return nil, err
	}
	return inspection.Open(ctx, inspection.Options{Dir: dir, Who: g.As, ReadOnly: true})
}

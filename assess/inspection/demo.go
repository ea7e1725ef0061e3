package inspection

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/go-json-experiment/json"
	"github.com/pelletier/go-toml/v2"

	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
	"fettlebook/assets"
)

// story is the demo as it is told in assets/demo/story.toml: three cores of one
// unit type, in the words of the bench. It is laid out by the same gestures
// that a person makes.
type story struct {
	Who  string `toml:"who"`
	Shop Shop   `toml:"shop"`
	// Instruments are the shop's.
	Instruments []record.Instrument `toml:"instrument"`
	Core        []storyCore         `toml:"core"`
}

type storyCore struct {
	Unit      record.Unit     `toml:"unit"`
	Owner     record.Owner    `toml:"owner"`
	Complaint string          `toml:"complaint"`
	Duty      term.Duty       `toml:"duty"`
	Dates     record.Dates    `toml:"dates"`
	People    []record.Person `toml:"people"`
	// Sound lists the places of parts that were clean, looked at and felt all over.
	Sound     []string         `toml:"sound"`
	Part      []storyPart      `toml:"part"`
	Finding   []storyFinding   `toml:"finding"`
	Scale     []storyScale     `toml:"scale"`
	Reading   []storyReading   `toml:"reading"`
	Working   []storyWorking   `toml:"working"`
	Fit       []storyFit       `toml:"fit"`
	Override  []storyOverride  `toml:"override"`
	Installed []storyInstalled `toml:"installed"`
}

type storyPart struct {
	Place   string         `toml:"place"`
	Tag     string         `toml:"tag"`
	Variant string         `toml:"variant"`
	State   term.PartState `toml:"state"`
	Count   int            `toml:"count"`
	Note    string         `toml:"note"`
	// Looked tells by the surface's name how it was inspected.
	Looked map[string]storyLooked `toml:"looked"`
}

type storyLooked struct {
	Looked bool `toml:"looked"`
	Felt   bool `toml:"felt"`
	Clean  bool `toml:"clean"`
}

type storyFinding struct {
	Place    string         `toml:"place"`
	Surface  string         `toml:"surface"`
	Damage   term.Damage    `toml:"damage"`
	Severity term.Severity  `toml:"severity"`
	Zone     term.Zone      `toml:"zone"`
	Method   term.Method    `toml:"method"`
	Tooth    string         `toml:"tooth"`
	Flank    term.FlankSide `toml:"flank"`
	Note     string         `toml:"note"`
	// Photo names the file whose marks outline the finding: photos/x.jpg.
	Photo string `toml:"photo"`
}

// storyScale gives a photo its scale: the rule on it, and how the surface lies to it.
type storyScale struct {
	Photo     string `toml:"photo"`
	What      string `toml:"what"`
	Tolerance string `toml:"tolerance"`
	// Tilt is that of a length on the rule. Where it is empty, the rule is taken by
	// its edges.
	Tilt   string `toml:"tilt"`
	Height string `toml:"height"`
	Bound  string `toml:"bound"`
}

type storyReading struct {
	Place      string            `toml:"place"`
	Surface    string            `toml:"surface"`
	Dimension  string            `toml:"dimension"`
	Values     []string          `toml:"values"`
	Unit       string            `toml:"unit"`
	Instrument record.Instrument `toml:"instrument"`
}

type storyWorking struct {
	Place   string            `toml:"place"`
	Surface string            `toml:"surface"`
	What    string            `toml:"what"`
	Entries map[string]string `toml:"entries"`
	Unit    string            `toml:"unit"`
	// Instrument is the serial of one of the shop's.
	Instrument string `toml:"instrument"`
	Manual     string `toml:"manual"`
	Page       string `toml:"page"`
}

type storyFit struct {
	Pair    string `toml:"pair"`
	A       string `toml:"a"`
	B       string `toml:"b"`
	Outcome string `toml:"outcome"`
	Note    string `toml:"note"`
}

type storyOverride struct {
	Place   string       `toml:"place"`
	Surface string       `toml:"surface"`
	Verdict term.Verdict `toml:"verdict"`
	Reason  string       `toml:"reason"`
}

type storyInstalled struct {
	Place string `toml:"place"`
	What  string `toml:"what"`
	Note  string `toml:"note"`
}

// storyPhoto is one line of assets/demo/photos.json: what a rendered photo
// shows, with the true outlines of what is damaged.
type storyPhoto struct {
	File        string      `json:"file"`
	Core        string      `json:"core"`
	Place       string      `json:"place"`
	Surface     string      `json:"surface"`
	Stage       string      `json:"stage"`
	Orientation int         `json:"orientation"`
	Width       int         `json:"width"`
	Height      int         `json:"height"`
	Marks       []storyMark `json:"marks"`
	// Face is the outline of the working face, where all of it is seen.
	Face []record.Point `json:"face"`
	// Scale are two places on the rule, so many millimetres apart.
	Scale struct {
		Points []record.Point `json:"points"`
		MM     int            `json:"mm"`
	} `json:"scale_reference"`
	// Edges are two places along each side of a rectangle on the rule.
	Edges struct {
		Points []record.Point `json:"points"`
		MM     []float64      `json:"mm"`
	} `json:"rule_edges"`
}

type storyMark struct {
	Damage  string         `json:"damage"`
	Outline []record.Point `json:"outline"`
}

// LayOutDemo lays the demo's cores out in an archive, and returns the first of
// them. One that lies there already is left as it is.
func (b *Bench) LayOutDemo(ctx context.Context) (*Inspection, error) {
	if err := b.layOutSpecs(); err != nil {
		return nil, err
	}
	var told story
	whole, err := fs.ReadFile(assets.Demo(), "story.toml")
	if err == nil {
		err = toml.NewDecoder(bytes.NewReader(whole)).DisallowUnknownFields().Decode(&told)
	}
	if err != nil {
		return nil, fmt.Errorf("the demo's story: %w", err)
	}
	return b.tell(ctx, told)
}

// laidOut finds a core of the demo that is in the archive already, nil if it is not.
func (b *Bench) laidOut(ctx context.Context, core storyCore) (*Inspection, error) {
	page, err := b.Find(ctx, Query{Words: []string{core.Unit.Serial, core.Unit.Maker}})
	if err != nil || len(page.Rows) == 0 {
		return nil, err
	}
	return b.Inspect(ctx, page.Rows[0].Record)
}

// layOutSpecs puts the demo's own spec into the archive's folder, as a user
// would, and loads it.
func (b *Bench) layOutSpecs() error {
	folder := filepath.Join(b.dir, specsFolder)
	path := filepath.Join(folder, "tw4.toml")
	if _, err := os.Stat(path); err != nil {
		content, err := fs.ReadFile(assets.Demo(), "specs/tw4.toml")
		if err != nil {
			return fmt.Errorf("the demo's spec: %w", err)
		}
		if err := writeBytes(path, content); err != nil {
			return err
		}
	}
	var err error
	var problems []spec.Problem
	b.specs, problems, err = LoadSpecs(folder)
	b.problems = problems
	return err
}

func (b *Bench) tell(ctx context.Context, told story) (*Inspection, error) {
	before := b.Who()
	b.SetWho(told.Who)
	defer b.SetWho(before)
	if err := b.SetShop(ctx, told.Shop); err != nil {
		return nil, err
	}
	if err := b.SetGauges(ctx, Gauges{Instruments: told.Instruments}); err != nil {
		return nil, err
	}
	photos, folder, err := demoPhotos()
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	// The first core is told last, so that it stands at the head of the register.
	var first *Inspection
	for i := len(told.Core) - 1; i >= 0; i-- {
		if first, err = b.laidOut(ctx, told.Core[i]); err != nil {
			return nil, err
		}
		if first != nil {
			continue
		}
		teller := teller{bench: b, core: told.Core[i], photos: photos, folder: folder, parts: map[string]record.ID{}, files: map[string]record.ID{}}
		if first, err = teller.tell(ctx); err != nil {
			return nil, fmt.Errorf("the demo's core %s: %w", told.Core[i].Unit.Serial, err)
		}
	}
	return first, nil
}

// demoPhotos lays the photos into a folder, from which they are taken in like
// any others.
func demoPhotos() ([]storyPhoto, string, error) {
	var photos []storyPhoto
	whole, err := fs.ReadFile(assets.Demo(), "photos.json")
	if err == nil {
		err = json.Unmarshal(whole, &photos)
	}
	if err != nil {
		return nil, "", fmt.Errorf("the demo's photos: %w", err)
	}
	folder, err := os.MkdirTemp("", "fettlebook-demo-")
	if err != nil {
		return nil, "", fmt.Errorf("the demo's photos: %w", err)
	}
	source, err := fs.Sub(assets.Demo(), "photos")
	if err == nil {
		err = os.CopyFS(filepath.Join(folder, "photos"), source)
	}
	if err != nil {
		return nil, "", fmt.Errorf("the demo's photos: %w", err)
	}
	return photos, folder, nil
}

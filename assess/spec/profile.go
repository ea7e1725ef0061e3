package spec

import (
	"fmt"
	"slices"
	"strings"
)

// Profile is the picture of a part kind in millimetres: a turned part as a list
// of features along its axis, any other as paths. A turned part may have paths
// too; they are its view from the right, round the axis at 0, 0.
//
// The generic one of a kind names no unit. One with a unit, or with a unit and
// a place, takes its place there.
type Profile struct {
	Kind  string `toml:"kind"`
	Unit  string `toml:"unit"`
	Place string `toml:"place"`
	// Row is the shaft, from 1, on which the part stands when the unit is laid
	// out; 0 stands with the part before it.
	Row      int       `toml:"row"`
	Features []Feature `toml:"feature"`
	Paths    []Path    `toml:"path"`
	Source   string    `toml:"source"`
}

// Shape is the form of a feature of a turned part.
type Shape string

// The shapes of features.
const (
	Cylinder   Shape = "cylinder"
	Taper      Shape = "cone"
	Groove     Shape = "groove"
	Splined    Shape = "spline"
	Threaded   Shape = "thread"
	Spur       Shape = "spur"
	Helical    Shape = "helical"
	Engagement Shape = "engagement"
	Shoulder   Shape = "shoulder"
	Chamfer    Shape = "chamfer"
	CrossHole  Shape = "cross-hole"
)

// Shapes lists the shapes of features.
var Shapes = []Shape{
	Cylinder, Taper, Groove, Splined, Threaded, Spur, Helical, Engagement, Shoulder, Chamfer, CrossHole,
}

// UnmarshalText reads the shape of a feature.
func (s *Shape) UnmarshalText(text []byte) error { return oneOf(s, "shape of a feature", Shapes, text) }

// Toothed reports whether the shape has a tip and a root.
func (s Shape) Toothed() bool {
	return s == Splined || s == Threaded || s == Spur || s == Helical || s == Engagement
}

// Side is an end of a turned part.
type Side string

// The ends of a turned part.
const (
	Left  Side = "left"
	Right Side = "right"
	Both  Side = "both"
)

// UnmarshalText reads an end of a part.
func (s *Side) UnmarshalText(text []byte) error {
	return oneOf(s, "end of a part", []Side{Left, Right, Both}, text)
}

// Feature is one step of a turned part. Outside features follow each other from
// the left end to the right; those of a bore from the end that Bore names
// inwards. Lengths and diameters are millimetres.
type Feature struct {
	Shape Shape `toml:"shape"`
	// Surface is the id of the kind's surface that it shows, empty for none.
	Surface string  `toml:"surface"`
	Length  float64 `toml:"length"`
	// Diameter is that at the left end of an outside feature, and at the mouth of
	// one in a bore. Of teeth, splines and threads it is the one of their crests.
	Diameter float64 `toml:"diameter"`
	// To is the diameter at the other end of a cone or a chamfer.
	To float64 `toml:"to"`
	// Root is the diameter of the roots of teeth, splines and threads.
	Root float64 `toml:"root"`
	// Teeth is how many there are; it is asked for where points are drawn.
	Teeth int `toml:"teeth"`
	// Point is the end on which engagement teeth are pointed.
	Point Side `toml:"point"`
	// Hand is that of helical teeth.
	Hand Side `toml:"hand"`
	// Bore puts the feature inside, counted from that end.
	Bore Side `toml:"bore"`
	// At is where the middle of a cross hole stands, from the left end.
	At float64 `toml:"at"`
}

// Placed is a feature at its place on the axis, X from the left end. R0 and R1
// are its radii at X0 and X1, Root0 and Root1 those of its roots, which are the
// same where it has none.
type Placed struct {
	*Feature
	X0, X1, R0, R1, Root0, Root1 float64
}

// Turned reports whether the profile has features along an axis.
func (p *Profile) Turned() bool { return len(p.Features) > 0 }

// Length is that of a turned part along its axis.
func (p *Profile) Length() float64 {
	length := 0.0
	for i := range p.Features {
		if f := &p.Features[i]; f.Bore == "" && f.Shape != CrossHole {
			length += f.Length
		}
	}
	return length
}

// Outside returns the outside features from left to right, cross holes left out.
func (p *Profile) Outside() []Placed {
	var list []Placed
	x := 0.0
	for i := range p.Features {
		f := &p.Features[i]
		if f.Bore != "" || f.Shape == CrossHole {
			continue
		}
		list = append(list, place(f, x, x+f.Length))
		x += f.Length
	}
	return list
}

// Inside returns the features of the bores from left to right.
func (p *Profile) Inside() []Placed {
	var left, right []Placed
	x, y := 0.0, p.Length()
	for i := range p.Features {
		f := &p.Features[i]
		switch f.Bore {
		case Left:
			left = append(left, place(f, x, x+f.Length))
			x += f.Length
		case Right:
			at := place(f, y-f.Length, y)
			at.R0, at.R1, at.Root0, at.Root1 = at.R1, at.R0, at.Root1, at.Root0
			right = append(right, at)
			y -= f.Length
		}
	}
	slices.Reverse(right)
	return append(left, right...)
}

// CrossHoles returns the cross holes.
func (p *Profile) CrossHoles() []*Feature {
	var list []*Feature
	for i := range p.Features {
		if p.Features[i].Shape == CrossHole {
			list = append(list, &p.Features[i])
		}
	}
	return list
}

func place(f *Feature, x0, x1 float64) Placed {
	at := Placed{Feature: f, X0: x0, X1: x1, R0: f.Diameter / 2, R1: f.Diameter / 2}
	if f.To > 0 {
		at.R1 = f.To / 2
	}
	at.Root0, at.Root1 = at.R0, at.R1
	if f.Root > 0 {
		at.Root0, at.Root1 = f.Root/2, f.Root/2
	}
	return at
}

// Shows reports whether a feature or a path shows the surface.
func (p *Profile) Shows(surface string) bool {
	return slices.ContainsFunc(p.Features, func(f Feature) bool { return f.Surface == surface }) ||
		slices.ContainsFunc(p.Paths, func(f Path) bool { return f.Surface == surface })
}

// Profile returns the picture of a kind: that of the place in the unit, else
// that of the unit, else the generic one. Unit and place may be empty.
func (s *Set) Profile(kind, unit, place string) (*Profile, bool) {
	for _, key := range []string{profileKey(kind, unit, place), profileKey(kind, unit, ""), profileKey(kind, "", "")} {
		if p, ok := s.profiles[key]; ok {
			return p, true
		}
	}
	return nil, false
}

// Profiles returns all pictures, the generic one of a kind before those of units.
func (s *Set) Profiles() []*Profile { return inOrder(s.profiles) }

// Unshown returns the ids of the surfaces of a kind that its generic picture
// does not show, all of them where it has none.
func (s *Set) Unshown(kind string) []string {
	k, ok := s.kinds[kind]
	if !ok {
		return nil
	}
	p, ok := s.Profile(kind, "", "")
	var missing []string
	for i := range k.Surfaces {
		if !ok || !p.Shows(k.Surfaces[i].ID) {
			missing = append(missing, k.Surfaces[i].ID)
		}
	}
	return missing
}

// profileKey names a profile among all.
func profileKey(kind, unit, place string) string {
	key := kind
	if unit != "" {
		key += " of " + unit
	}
	if place != "" {
		key += " at " + place
	}
	return key
}

func oneOf[T ~string](into *T, what string, words []T, text []byte) error {
	if slices.Contains(words, T(text)) {
		*into = T(text)
		return nil
	}
	known := make([]string, len(words))
	for i, w := range words {
		known[i] = string(w)
	}
	return fmt.Errorf("%q is not a %s; known are: %s", text, what, strings.Join(known, ", "))
}

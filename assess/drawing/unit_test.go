package drawing_test

import (
	"slices"
	"testing"

	"fettlebook/assess/drawing"
)

func TestTheWholeUnitIsLaidOut(t *testing.T) {
	set := own(t)
	stands := someStands(t, set)
	regular, bold := faces(t)
	for _, width := range widths {
		for _, o := range []drawing.Options{{Width: width}, {Width: width, Names: true}, {Width: width, Height: 60, Text: 2.2}, {Width: width, Bare: true}} {
			l := drawing.Unit(stands, "gear-3", o)
			sound(t, "unit", l)
			if o.Height > 0 && l.Height > o.Height+0.01 {
				t.Errorf("at %.0f mm it takes %.1f of %.1f mm", width, l.Height, o.Height)
			}
			if len(l.Walk) != len(stands) {
				t.Errorf("at %.0f mm one can walk to %d of %d places", width, len(l.Walk), len(stands))
			}
			for _, s := range stands {
				i := slices.IndexFunc(l.Areas, func(a drawing.Area) bool { return a.Of == s.Place.ID })
				if i < 0 {
					t.Fatalf("at %.0f mm %s can't be pointed at", width, s.Place.ID)
				}
				p := middle(l.Areas[i].Polygon)
				if of, _ := l.At(p); of != s.Place.ID {
					t.Errorf("at %.0f mm %s is found where %s stands", width, of, s.Place.ID)
				}
				if p.X < 0 || p.X > l.Width || p.Y < 0 || p.Y > l.Height {
					t.Errorf("at %.0f mm %s stands outside", width, s.Place.ID)
				}
			}
			if width < 100 {
				continue // forty parts across a palm: letters may touch there
			}
			for text, places := range texts(t, l, regular, bold) {
				for _, r := range places {
					if r.x0 < -0.01 || r.x1 > l.Width+0.01 || r.y1 > l.Height+0.01 {
						t.Errorf("at %.0f mm %q is clipped: %v of %.1f × %.1f", width, text, r, l.Width, l.Height)
					}
				}
			}
		}
	}
}

func middle(polygon []drawing.Point) drawing.Point {
	return drawing.Point{X: (polygon[0].X + polygon[2].X) / 2, Y: (polygon[0].Y + polygon[2].Y) / 2}
}

// The parts of the main shaft stand in one row, those of the layshaft in another.
func TestShaftsHaveRowsOfTheirOwn(t *testing.T) {
	l := drawing.Unit(someStands(t, own(t)), "", drawing.Options{Width: 300})
	at := func(place string) drawing.Point {
		i := slices.IndexFunc(l.Areas, func(a drawing.Area) bool { return a.Of == place })
		return middle(l.Areas[i].Polygon)
	}
	same := func(a, b string) bool { d := at(a).Y - at(b).Y; return d < 0.01 && d > -0.01 }
	if !same("input-shaft", "main-shaft") || !same("input-shaft", "pilot-needles") || !same("layshaft", "layshaft-needles") {
		t.Error("the parts of a shaft do not stand on it")
	}
	if same("main-shaft", "layshaft") {
		t.Error("two shafts are one")
	}
	if at("input-shaft").X > at("gear-3").X || at("gear-3").X > at("output-flange").X {
		t.Error("the main shaft does not run from the front to the rear")
	}
}

func TestNothingLaidOutIsAnEmptyDrawing(t *testing.T) {
	if l := drawing.Unit(nil, "", drawing.Options{Width: 100}); len(l.Items) > 0 || !(l.Height > 0) {
		t.Errorf("%+v", l)
	}
}

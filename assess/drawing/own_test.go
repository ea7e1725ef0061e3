package drawing_test

import (
	"fmt"
	"slices"
	"testing"

	"fettlebook/assess/drawing"
)

// Widths of 320, 640 and 1600 px at 96 dpi, in mm.
var widths = []float64{320 * 25.4 / 96, 640 * 25.4 / 96, 1600 * 25.4 / 96}

func TestEveryKindIsDrawnWithAllItsSurfaces(t *testing.T) {
	set := own(t)
	kinds := set.Kinds()
	if len(kinds) < 29 {
		t.Fatalf("there are %d kinds", len(kinds))
	}
	for _, k := range kinds {
		if missing := set.Unshown(k.ID); len(missing) > 0 {
			t.Errorf("%s: no feature shows %v", k.ID, missing)
		}
		p, ok := set.Profile(k.ID, "", "")
		if !ok {
			t.Errorf("%s has no profile", k.ID)
			continue
		}
		for _, width := range widths {
			l := drawing.Part(p, k, someState(k), drawing.Options{Width: width})
			sound(t, k.ID, l)
			if len(l.Walk) != len(k.Surfaces) {
				t.Errorf("%s: one can walk to %v", k.ID, l.Walk)
			}
			if len(l.Listed) > 0 {
				t.Errorf("%s at %.0f mm: no leader to %v", k.ID, width, l.Listed)
			}
		}
	}
}

func TestNoLabelIsClippedAndNoneLiesOnAnother(t *testing.T) {
	set := own(t)
	regular, bold := faces(t)
	for _, k := range set.Kinds() {
		p, _ := set.Profile(k.ID, "", "")
		for _, width := range widths {
			for _, names := range []bool{false, true} {
				l := drawing.Part(p, k, someState(k), drawing.Options{Width: width, Names: names, List: true})
				var before []rect
				for text, places := range texts(t, l, regular, bold) {
					for _, r := range places {
						if r.x0 < 0 || r.y0 < 0 || r.x1 > l.Width || r.y1 > l.Height {
							t.Errorf("%s at %.0f mm: %q is clipped: %v of %.1f × %.1f", k.ID, width, text, r, l.Width, l.Height)
						}
						if i := slices.IndexFunc(before, r.overlaps); i >= 0 {
							t.Errorf("%s at %.0f mm: %q lies on another label", k.ID, width, text)
						}
						before = append(before, r)
					}
				}
				for i := range k.Surfaces {
					if !shown(l, fmt.Sprint(i+1)) {
						t.Errorf("%s at %.0f mm: no number %d", k.ID, width, i+1)
					}
				}
			}
		}
	}
}

func shown(l *drawing.List, text string) bool {
	return slices.ContainsFunc(l.Items, func(it drawing.Item) bool { return it.Op == drawing.Text && it.Text == text })
}

func TestASurfaceIsFoundWhereItsLeaderEnds(t *testing.T) {
	set := own(t)
	for _, k := range set.Kinds() {
		p, _ := set.Profile(k.ID, "", "")
		l := drawing.Part(p, k, drawing.State{}, drawing.Options{Width: 200})
		for _, lead := range leaders(l) {
			foot := lead.line[2]
			of, ok := l.At(foot)
			if !ok {
				t.Errorf("%s: nothing is found where the leader to %s ends", k.ID, lead.of)
			}
			// Two surfaces may lie over each other, but most are found themselves.
			if of != lead.of && !overlap(l, foot, lead.of) {
				t.Errorf("%s: the leader to %s ends on %s", k.ID, lead.of, of)
			}
		}
		if of, ok := l.At(drawing.Point{X: -50, Y: -50}); ok {
			t.Errorf("%s: %s is found far off", k.ID, of)
		}
	}
}

// overlap reports whether the surface lies at the point too, under another.
func overlap(l *drawing.List, p drawing.Point, of string) bool {
	only := *l
	only.Areas = slices.DeleteFunc(slices.Clone(l.Areas), func(a drawing.Area) bool { return a.Of != of })
	_, ok := only.At(p)
	return ok
}

func TestOneWalksAlongTheShaft(t *testing.T) {
	set := own(t)
	k, _ := set.Kind("input-shaft")
	p, _ := set.Profile(k.ID, "", "")
	l := drawing.Part(p, k, drawing.State{}, drawing.Options{Width: 200})
	want := []string{"pilot", "clutch-spline", "snap-ring-groove", "bearing-seat", "flanks", "engagement-teeth", "needle-bore", "cone"}
	if !slices.Equal(l.Walk, want) {
		t.Fatalf("the walk is %v", l.Walk)
	}
	for _, c := range []struct {
		from string
		by   int
		want string
	}{
		{"pilot", 1, "clutch-spline"}, {"pilot", -1, "pilot"}, {"cone", 1, "cone"}, {"cone", -2, "engagement-teeth"},
		{"", 1, "pilot"}, {"", -1, "cone"}, {"gone", 2, "clutch-spline"},
	} {
		if got, ok := l.Step(c.from, c.by); !ok || got != c.want {
			t.Errorf("%d from %q is %q, want %q", c.by, c.from, got, c.want)
		}
	}
	if _, ok := (&drawing.List{}).Step("pilot", 1); ok {
		t.Error("there is a step in an empty drawing")
	}
}

func TestHoverIsADrawingOfItsOwn(t *testing.T) {
	set := own(t)
	k, _ := set.Kind("input-shaft")
	p, _ := set.Profile(k.ID, "", "")
	l := drawing.Part(p, k, drawing.State{}, drawing.Options{Width: 200})
	over := l.Highlight("cone")
	if over.Width != l.Width || over.Height != l.Height || len(over.Items) == 0 {
		t.Fatalf("the highlight is %g × %g with %d items", over.Width, over.Height, len(over.Items))
	}
	for _, it := range over.Items {
		if it.Of != "cone" || it.Ink != drawing.Accent {
			t.Errorf("the highlight of the cone holds %+v", it)
		}
	}
	if len(l.Highlight("gone").Items) > 0 {
		t.Error("there is a highlight of what is not there")
	}
}

func TestAKindThatNobodyHasDrawnIsATile(t *testing.T) {
	k, _ := own(t).Kind("input-shaft")
	l := drawing.Part(nil, k, someState(k), drawing.Options{Width: 120, List: true})
	sound(t, "tile", l)
	if len(l.Listed) != len(k.Surfaces) || len(l.Walk) != len(k.Surfaces) {
		t.Errorf("listed are %v, the walk is %v", l.Listed, l.Walk)
	}
	if !shown(l, "synchroniser cone") {
		t.Error("the list does not name the cone")
	}
}

func TestADrawingKeepsWithinItsHeight(t *testing.T) {
	set := own(t)
	for _, k := range set.Kinds() {
		p, _ := set.Profile(k.ID, "", "")
		l := drawing.Part(p, k, someState(k), drawing.Options{Width: 150, Height: 60})
		if l.Height > 60.001 {
			t.Errorf("%s takes %.1f mm of 60", k.ID, l.Height)
		}
	}
}

// A mate stands where it runs: the bearing round its seat, the gear beside the
// one it meshes with, and none of it outside the drawing.
func TestMatesStandFaintlyAtTheirPlaces(t *testing.T) {
	set := own(t)
	k, _ := set.Kind("input-shaft")
	p, _ := set.Profile(k.ID, "", "")
	ring, _ := set.Profile("blocking-ring", "", "")
	cluster, _ := set.Profile("layshaft-cluster", "", "")
	plain := drawing.Part(p, k, drawing.State{}, drawing.Options{Width: 200})
	with := drawing.Part(p, k, drawing.State{Mates: []drawing.Mate{
		{Surface: "cone", Its: "cone", Profile: ring}, {Surface: "flanks", Its: "flanks-constant", Profile: cluster, Meshes: true},
		{Surface: "gone", Its: "cone", Profile: ring}, {Surface: "cone", Its: "cone"},
	}}, drawing.Options{Width: 200})
	if with.Scale != plain.Scale || with.Height != plain.Height {
		t.Error("mates move the part itself")
	}
	found := map[string]bool{}
	for _, it := range with.Items {
		if it.Ink != drawing.Faint {
			continue
		}
		found[it.Of] = true
		for _, path := range it.Paths {
			for _, q := range path {
				if q.X < 0 || q.X > with.Width || q.Y < 0 || q.Y > with.Height {
					t.Errorf("a mate of %s goes to %v", it.Of, q)
				}
			}
		}
	}
	if !found["cone"] || !found["flanks"] || len(found) != 2 {
		t.Errorf("mates are drawn of %v", found)
	}
}

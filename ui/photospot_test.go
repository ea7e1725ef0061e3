package ui_test

import (
	"image"
	"image/color"
	"testing"

	"fettlebook/assess/record"
	"fettlebook/ui"
)

func spot(id record.ID, x, y int) ui.ShownOutline {
	o := polygon(id, x, y)
	o.Outline.Shape = record.Spot
	return o
}

func TestPhotoMarkingASpot(t *testing.T) {
	runPhotoCases(t, map[string]photoCase{
		"a click":                    {"type 7 click 50,60", []string{"tool 6", "drew spot 50,60"}},
		"set with care":              {"type 7 down 50,60 drag 80,90 drag 70,66 up", []string{"tool 6", "drew spot 70,66"}},
		"brought to the edge":        {"type 7 click 415,-9", []string{"tool 6", "drew spot 400,0"}},
		"given up":                   {"type 7 down 50,60 drag 80,90 key Escape up", []string{"tool 6"}},
		"Space at the keys' pointer": {"type 7 key Right key Down key Space", []string{"tool 6", "drew spot 204,154"}},
		"Enter as well":              {"type 7 key Left key Return", []string{"tool 6", "drew spot 196,150"}},
		"Space where the mouse is":   {"move 50,60 type 7 key Space", []string{"tool 6", "drew spot 50,60"}},
		"Escape leads out":           {"type 7 key Escape key Escape", []string{"tool 6", "tool 0", "key Escape"}},
	})
}

func TestPhotoWorkingOnASpot(t *testing.T) {
	const chosen = "selected s"
	runPhotoCases(t, map[string]photoCase{
		"chosen":                  {"click 150,150", []string{chosen}},
		"chosen from near by":     {"click 165,140", []string{chosen}},
		"not from further off":    {"click 180,150", []string{"selected large"}},
		"dragged without a click": {"down 152,149 drag 170,170 drag 182,189 up", []string{chosen, "reshaped s 180,190"}},
		"to the edge":             {"down 150,150 drag 500,150 up", []string{chosen, "reshaped s 400,150"}},
		"moved by keys":           {"click 150,150 key Right shift key Down unshift", []string{chosen, "reshaped s 151,150", "reshaped s 151,160"}},
		"it has no corners":       {"click 150,150 type k", []string{chosen, "key k"}},
		"nor any to add":          {"click 150,150 double 150,150 key Insert", []string{chosen, "key Insert"}},
		"removed":                 {"click 150,150 key Delete", []string{chosen, "selected ", "remove s"}},
		"Escape lets go":          {"click 150,150 key Escape", []string{chosen, "selected "}},
	}, box("large", 20, 20, 380, 280), spot("s", 150, 150))
}

// TestPhotoShowsASpot holds that a ring is drawn and the place itself left to be seen.
func TestPhotoShowsASpot(t *testing.T) {
	h := lookAt(t, upright)
	grey := image.NewRGBA(image.Rect(0, 0, 400, 300))
	for i := range grey.Pix {
		grey.Pix[i] = 0x80
	}
	grey.Pix[3] = 0xff
	h.SetPhoto(upright, grey)
	at := func() (middle, ring color.Color) {
		img := h.Compose(int(h.Size().Width), int(h.Size().Height))
		return img.At(150+margin, 150+margin), img.At(158+margin, 150+margin)
	}
	middle, ring := at()
	h.SetOutlines([]ui.ShownOutline{spot("s", 150, 150)})
	if m, r := at(); m != middle || r == ring {
		t.Errorf("the place went from %v to %v, the ring from %v to %v", middle, m, ring, r)
	}
}

package ui_test

import (
	"testing"

	"fettlebook/assess/record"
	"fettlebook/ui"
)

// A card from 100,50 to 300,200 by its edges, the corners left out.
const (
	firstThree = "down 120,50 drag 200,50 drag 280,50 up down 300,70 drag 300,180 up down 280,200 drag 120,200 up "
	wholeCard  = firstThree + "down 100,180 drag 100,70 up"
	drewCard   = "drew edges 120,50 280,50 300,70 300,180 280,200 120,200 100,180 100,70"
)

func TestPhotoACardByItsEdges(t *testing.T) {
	runPhotoCases(t, map[string]photoCase{
		"a drag along each":     {"type ; " + wholeCard, []string{"tool 7", drewCard}},
		"two clicks along each": {"type ; click 120,50 click 280,50 click 300,70 click 300,180 click 280,200 click 120,200 click 100,180 click 100,70", []string{"tool 7", drewCard}},
		"a drag and clicks":     {"type ; " + firstThree + "click 100,180 click 100,70", []string{"tool 7", drewCard}},
		"with the keys": {"type ; key Space shift key Right key Right unshift key Space shift key Down unshift key Space shift key Down key Down unshift key Space shift key Left unshift key Space shift key Left key Left unshift key Space shift key Up unshift key Return shift key Up key Up unshift key Return",
			[]string{"tool 7", "drew edges 200,150 280,150 280,190 280,270 240,270 160,270 160,230 160,150"}},
		"a slip is no edge":          {"type ; down 120,50 drag 125,50 up click 126,50 click 280,50 down 300,70 drag 300,180 up down 280,200 drag 120,200 up down 100,180 drag 100,70 up", []string{"tool 7", drewCard}},
		"one taken back":             {"type ; down 10,10 drag 90,90 up key BackSpace " + wholeCard, []string{"tool 7", drewCard}},
		"half of one taken back":     {"type ; click 10,10 key BackSpace " + wholeCard, []string{"tool 7", drewCard}},
		"edges side by side":         {"type ; down 120,50 drag 280,50 up down 120,80 drag 280,80 up down 280,200 drag 120,200 up down 100,180 drag 100,70 up key BackSpace", []string{"tool 7"}},
		"Escape drops all, then out": {"type ; " + firstThree + "key Escape key Escape key Escape", []string{"tool 7", "tool 0", "key Escape"}},
		"Escape in a drag":           {"type ; down 120,50 drag 280,50 key Escape up key Escape", []string{"tool 7", "tool 0"}},
	})
}

func TestPhotoWorkingOnACard(t *testing.T) {
	o := ui.ShownOutline{ID: "card", Number: 1, Outline: record.Outline{Shape: record.Edges, Points: []record.Point{
		{12000, 5000}, {28000, 5000}, {30000, 7000}, {30000, 18000}, {28000, 20000}, {12000, 20000}, {10000, 18000}, {10000, 7000}}}}
	runPhotoCases(t, map[string]photoCase{
		"chosen by its corner":  {"click 101,51", []string{"selected card"}},
		"an edge's end moved":   {"click 200,52 down 280,50 drag 280,60 up", []string{"selected card", "reshaped card 120,50 280,60 300,70 300,180 280,200 120,200 100,180 100,70"}},
		"not till it falls in":  {"click 200,52 down 100,180 drag 180,75 up", []string{"selected card"}},
		"its corners are fixed": {"click 200,52 double 200,50", []string{"selected card"}},
	}, o)
}

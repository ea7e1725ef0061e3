package ui

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
)

// Where the tools have no room for their keys, they stand by their names alone, and
// what stands at the right goes below them only where a name would be cut.
func TestToolsGiveWay(t *testing.T) {
	test.NewTempApp(t)
	tools := newChoices(nil, []choice{{ID: "a", Label: "Pencil Z", Short: "Pencil"}, {ID: "b", Label: "Corners C", Short: "Corners"}}, nil)
	tools.Small = true
	right := newButton(nil, "right", nil, nil)
	row := container.New(&givingWay{gap: 4}, tools, right)
	labels := test.WidgetRenderer(tools).(*choicesRenderer).labels
	wide := tools.MinSize().Width + 4 + right.MinSize().Width
	least := tools.leastWidth() + 4 + right.MinSize().Width
	for _, c := range []struct {
		width float32
		want  string
	}{{wide + 50, "Pencil Z"}, {wide, "Pencil Z"}, {wide - 8, "Pencil"}, {wide, "Pencil Z"}, {least, "Pencil"}, {least - 20, "Pencil Z"}, {wide, "Pencil Z"}} {
		row.Resize(fyne.NewSize(c.width, 40))
		if got := labels[0].Text; got != c.want {
			t.Errorf("%.0f wide, a tool is called %q, want %q", c.width, got, c.want)
		}
		if below := right.Position().Y > 0; below != (c.width < least) || below != (row.MinSize().Height > 40) {
			t.Errorf("%.0f wide, the button stands below: %v, the row is %.0f high", c.width, below, row.MinSize().Height)
		}
		if end := tools.Position().X + tools.Size().Width; end > right.Position().X && c.width >= least {
			t.Errorf("%.0f wide, the tools reach to %.0f, the button begins at %.0f", c.width, end, right.Position().X)
		}
	}
}

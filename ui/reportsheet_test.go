package ui

import (
	"image/color"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
)

// TestAReportWithoutAnOriginal loses the original of a photo: the report is written,
// and the sheet tells which photo it had to do without.
func TestAReportWithoutAnOriginal(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "cone.jpg", color.White))
	h.settled()
	for _, folder := range []string{"originals", "views"} {
		if err := os.RemoveAll(filepath.Join(h.bench.Dir(), folder)); err != nil {
			t.Fatal(err)
		}
	}
	path := filepath.Join(t.TempDir(), "report.pdf")
	h.place().showReport()
	sheet := h.place().side.sheet.(*reportSheet)
	sheet.path.SetText(path)
	h.hold(ctrl(fyne.KeyReturn))
	h.until("the report to be written", func() bool { return sheet.written != "" || !sheet.work.running() && paragraphText(sheet.says) != "" })
	if says := paragraphText(sheet.says); !strings.Contains(says, "Written: ") || !strings.Contains(says, "Printed without photo 1 (cone.jpg): its original is missing") {
		t.Errorf("it says %q", says)
	}
	if _, err := os.Stat(path); err != nil {
		t.Error(err)
	}
}

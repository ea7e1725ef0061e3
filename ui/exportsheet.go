package ui

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// exportSheet hands the record on to other programs: photos with their outlines,
// outlines by themselves, tables, copies of photos without place and serial.
type exportSheet struct {
	p      *inspectionPlace
	as     *rows
	which  *choices
	of     fyne.CanvasObject // which, with its name above it
	folder *field
	says   *paragraph
	do     *button
	openIt *button
	work   *runningJob
	page   fyne.CanvasObject
	// picked are the photos that were picked when the sheet was opened.
	picked  []record.ID
	job     *inspection.Export
	written string // the folder, once it is
}

// exportWays are the formats in the order in which they are wanted most.
var exportWays = []struct {
	as, label, about string
	// each is whether there is a file for each photo.
	each bool
}{
	{"jpeg", "Photos with outlines, JPEG", "the outlines drawn in; for e-mail", true},
	{"png", "Photos with outlines, PNG", "the same without loss, large", true},
	{"stripped", "Copies of photos", "without place and serial, with both hashes", true},
	{"svg", "Outlines, SVG", "a drawing for each photo, for drawing programs", true},
	{"csv", "Tables, CSV", "findings, readings, extents; for a spreadsheet", false},
	{"annotations", "Outlines, Web Annotation", "all of them in one file (JSON-LD)", false},
	{"coco", "Outlines, COCO", "all of them in one file, for training", false},
}

func newExportSheet(p *inspectionPlace) *exportSheet {
	s := &exportSheet{p: p, picked: p.viewer.picked()}
	s.as = newRows(p.f)
	s.as.Numbered = true
	items := make([]rowItem, len(exportWays))
	for i, w := range exportWays {
		items[i] = rowItem{ID: w.as, Lead: fmt.Sprint(i + 1), Text: w.label, Quiet: w.about}
	}
	s.as.SetItems(items)
	s.as.Mark(items[0].ID)
	s.as.OnSelected = func(string) { s.anew() }
	s.as.OnEnter = func(string) { s.submit() }
	s.which = newChoices(p.f, s.scopes(), func(string) { s.anew() })
	s.which.OnEnter = s.submit
	s.which.Mark(s.which.Options[0].ID)
	s.of = asked("of which photos", s.which)
	s.folder = newField(p.f, "folder")
	s.folder.SetText(s.propose())
	s.folder.OnChanged = func(string) { s.anew() }
	s.folder.OnSubmitted = func(string) { s.submit() }
	s.says = plainly("")
	s.do = newButton(p.f, "Write   Enter", theme.DocumentSaveIcon(), s.submit).primary()
	s.openIt = newButton(p.f, "Open the folder", theme.FolderOpenIcon(), func() { p.openFile(s.written) }).primary()
	s.work = newRunningJob(p.f)
	s.page = s.build()
	s.anew()
	return s
}

// scopes are the photos that there can be a file of: those that are picked, or all.
func (s *exportSheet) scopes() []choice {
	all := choice{ID: "all", Label: "all of the record"}
	if len(s.picked) == 0 {
		return []choice{all}
	}
	return []choice{{ID: "picked", Label: s.p.n.SaysPhotos(s.picked)}, all}
}

func (s *exportSheet) build() fyne.CanvasObject {
	choose := newButton(s.p.f, "", theme.FolderOpenIcon(), func() { s.p.f.chooseFolder(filepath.Dir(cleanPath(s.folder.Text)), s.folder.SetText) })
	body := column(8, s.as, s.of,
		asked("into the folder", container.NewBorder(nil, nil, nil, choose, s.folder)),
		padded(s.says, 6, 0, 0, 0), s.work.bar)
	return sheetPage(s.p.f, "Export", s.p.side.close, body, nil,
		s.openIt, s.do, s.work.stop, newButton(s.p.f, "Close   Esc", nil, s.p.side.close))
}

func (s *exportSheet) object() fyne.CanvasObject { return s.page }
func (s *exportSheet) refreshed()                {}

// closed leaves what is being written to the bar at the top.
func (s *exportSheet) closed() {
	if s.work.running() {
		job, folder, p := s.job, s.path(), s.p
		p.work.watch("Exporting", job.Job, func(err error) { p.exported(job, folder, err) })
	}
}

// propose is a folder of its own beside the reports.
func (s *exportSheet) propose() string {
	u := s.p.n.Record().Unit
	return filepath.Join(firstOf(s.p.f.settings.Reports, documents()), fileName(strings.TrimSpace(firstOf(u.Model, u.Type)+" "+u.Serial)+" export"))
}

func (s *exportSheet) path() string { return cleanPath(s.folder.Text) }

// each tells whether there is a file for each photo.
func (s *exportSheet) each() bool {
	i := s.as.Index()
	return i >= 0 && exportWays[i].each
}

// anew forgets what was written: another order is another export.
func (s *exportSheet) anew() {
	s.written = ""
	s.says.Set()
	s.show()
	folder := s.path()
	beside(s.p.f, func(context.Context) (bool, error) { return isFolder(folder), nil }, func(there bool, _ error) {
		if there && folder == s.path() && s.written == "" && !s.work.running() {
			s.says.Set(piece{Text: "The folder is there; files of the same names in it will be replaced.", Color: colorQuiet})
		}
	})
}

func (s *exportSheet) show() {
	s.of.(*fyne.Container).Hidden = !s.each()
	s.work.show()
	running := s.work.running()
	s.do.Hidden = running || s.written != ""
	s.openIt.Hidden = running || s.written == ""
	s.page.Refresh()
}

// submit writes.
func (s *exportSheet) submit() {
	switch {
	case s.work.running():
		return
	case s.written != "":
		s.p.openFile(s.written)
		return
	case s.path() == "":
		s.says.Set(piece{Text: "Say into which folder.", Color: theme.ColorNameError})
		s.p.f.focus(s.folder)
		return
	}
	o := inspection.ExportOrder{As: s.as.Selected, Dir: s.path()}
	if s.each() && s.which.Selected == "picked" {
		o.Photos = s.picked
	}
	job := s.p.n.Export(s.p.f.ctx, o)
	s.job = job
	s.says.Set(piece{Text: "Writing …", Color: colorQuiet})
	s.work.run(job.Job, func() bool { return s.p.side.sheet == sheet(s) }, func(err error) { s.ended(job, o.Dir, err) })
	s.show()
}

func (s *exportSheet) ended(job *inspection.Export, folder string, err error) {
	if err != nil {
		w := wordsFor("Not all was exported.", err)
		s.says.Set(piece{Text: w.Title + " ", Bold: true, Color: theme.ColorNameError},
			piece{Text: strings.TrimSpace(w.Message+" "+w.Hint) + " " + writtenSays(job, folder)})
		s.show()
		return
	}
	s.written = folder
	s.says.Set(piece{Text: "Written: ", Bold: true}, piece{Text: writtenSays(job, folder)})
	s.show()
	s.p.f.focus(s.openIt)
}

// writtenSays tells which files were written, and where; of many the first and the
// last.
func writtenSays(job *inspection.Export, folder string) string {
	const named = 4
	files := job.Files()
	says := "Nothing was written."
	switch n := len(files); {
	case n > named:
		says = fmt.Sprintf("%d files, %s to %s, in %s.", n, files[0], files[n-1], folder)
	case n > 0:
		says = fmt.Sprintf("%s in %s.", and(files), folder)
	}
	if missing := job.Progress().Done - len(files); missing > 0 {
		says += fmt.Sprintf(" Of %s no copy could be made; why stands in stripped.csv.", countOf(missing, "photo", "photos"))
	}
	return says
}

// exported tells of an export whose sheet was closed meanwhile.
func (p *inspectionPlace) exported(job *inspection.Export, folder string, err error) {
	if err != nil {
		w := wordsFor("Not all was exported.", err)
		w.Message = strings.TrimSpace(w.Message + " " + writtenSays(job, folder))
		p.notices.put(notice{ID: "export", Warns: true, words: w})
		return
	}
	p.notices.put(notice{ID: "export", words: words{Title: "The export is written.", Message: writtenSays(job, folder)},
		Do: "Open the folder", Doing: func() { p.openFile(folder) }})
}

func (p *inspectionPlace) showExport() {
	s := newExportSheet(p)
	p.side.put(s)
	p.f.focus(s.as)
}

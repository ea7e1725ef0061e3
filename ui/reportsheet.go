package ui

import (
	"context"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/inspection"
)

// reportSheet orders a report: for whom, on which paper, into which file.
type reportSheet struct {
	p      *inspectionPlace
	reader *choices
	paper  *choices
	causes *toggle
	path   *field
	says   *paragraph
	about  *paragraph
	do     *button
	openIt *button
	work   *runningJob
	page   fyne.CanvasObject
	// proposed is the path that the sheet filled in; one that the person changed
	// is left alone.
	proposed string
	written  string
}

var readerAbout = map[string]string{
	"customer": "Outcome, grades and what to replace on page one; then each part with photos, findings and reasons in plain words.",
	"warranty": "The same, and of every photo its file, time, camera and SHA-256; readings; the history of every change.",
	"archive":  "All of it compactly, and what was installed.",
	"bench":    "No report: cards for greasy hands, half a page a part, to be ticked at the bench and typed in later.",
}

func newReportSheet(p *inspectionPlace) *reportSheet {
	s := &reportSheet{p: p}
	s.reader = newChoices(p.f, []choice{{ID: "customer", Label: "customer"}, {ID: "warranty", Label: "warranty"}, {ID: "archive", Label: "archive"}, {ID: "bench", Label: "bench card"}},
		func(string) { s.propose(); s.show() })
	s.reader.Numbered = true
	s.reader.Mark("customer")
	s.reader.OnEnter = s.submit
	s.paper = newChoices(p.f, []choice{{ID: "a4", Label: "A4"}, {ID: "letter", Label: "Letter"}}, func(id string) {
		p.f.settings.Paper = id
		p.f.keepSettings()
	})
	s.paper.Mark(p.f.settings.Paper)
	s.paper.OnEnter = s.submit
	s.causes = newToggle(p.f, "with what the findings are consistent with", func() { s.causes.Set(!s.causes.On) })
	s.path = newField(p.f, "file")
	s.path.OnChanged = func(string) { s.lookAtPath() }
	s.path.OnSubmitted = func(string) { s.submit() }
	s.about, s.says = quietly(""), plainly("")
	s.do = newButton(p.f, "Write the report", theme.DocumentPrintIcon(), s.submit).primary()
	s.work = newRunningJob(p.f)
	s.openIt = newButton(p.f, "Open it", nil, s.open).primary()
	s.page = s.build()
	s.propose()
	s.show()
	return s
}

func (s *reportSheet) build() fyne.CanvasObject {
	folder := newButton(s.p.f, "", theme.FolderOpenIcon(), s.chooseFolder)
	body := column(8,
		asked("written for", s.reader), s.about, s.causes,
		asked("paper", s.paper),
		asked("file", container.NewBorder(nil, nil, nil, folder, s.path)),
		padded(s.says, 6, 0, 0, 0), s.work.bar)
	return sheetPage(s.p.f, "Report", s.p.side.close, body, nil,
		s.openIt, s.do, s.work.stop, newButton(s.p.f, "Export …   Ctrl+E", nil, s.p.showExport), newButton(s.p.f, "Close   Esc", nil, s.p.side.close))
}

func (s *reportSheet) object() fyne.CanvasObject { return s.page }
func (s *reportSheet) refreshed()                {}

// closed leaves a report that is being written to itself: it ends in the bar at
// the top.
func (s *reportSheet) closed() {
	if s.work.running() {
		path := s.path.Text
		job := s.work.job
		s.p.work.watch("Writing the report", job, func(err error) { s.p.reported(path, job, err) })
	}
}

func (s *reportSheet) begin() { s.p.f.focus(s.reader) }

func (s *reportSheet) show() {
	about := readerAbout[s.reader.Selected]
	if out := len(s.p.viewer.list(leftOut)); out > 0 && s.reader.Selected != "bench" {
		about += " " + countOf(out, "photo is", "photos are") + " left out."
	}
	s.about.Set(piece{Text: about, Color: colorQuiet, Small: true})
	s.causes.Hidden = s.reader.Selected != "customer"
	running := s.work.running()
	s.work.show()
	s.do.Hidden = running || s.written != ""
	s.openIt.Hidden = s.written == "" || running
	s.page.Refresh()
}

// propose names the file after the unit and the reader, in the folder that was
// used last or the user's documents.
func (s *reportSheet) propose() {
	if s.path.Text != s.proposed {
		return
	}
	folder := s.p.f.settings.Reports
	if folder == "" {
		folder = documents()
	}
	u := s.p.n.Record().Unit
	name := fileName(strings.TrimSpace(firstOf(u.Model, u.Type)+" "+u.Serial) + " " + s.reader.Selected)
	s.proposed = filepath.Join(folder, name+".pdf")
	s.path.SetText(s.proposed)
}

// documents is the user's folder for documents, if there is one.
func documents() string {
	home, err := os.UserHomeDir()
	if err != nil {
		return "."
	}
	if dir := filepath.Join(home, "Documents"); isFolder(dir) || runtime.GOOS != "linux" {
		return dir
	}
	return home
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// fileName makes a name that every system takes.
func fileName(text string) string {
	text = strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune(" .-_()", r) {
			return r
		}
		return '-'
	}, text)
	text = strings.Trim(strings.Join(strings.Fields(text), " "), ". ")
	return firstOf(string([]rune(text)[:min(len([]rune(text)), 80)]), "report")
}

// lookAtPath says whether a file of this name is there. Another path is another
// report.
func (s *reportSheet) lookAtPath() {
	path := s.path.Text
	s.written = ""
	s.says.Set()
	s.show()
	beside(s.p.f, func(context.Context) (bool, error) {
		_, err := os.Stat(cleanPath(path))
		return err == nil, nil
	}, func(there bool, _ error) {
		if there && path == s.path.Text && s.written == "" {
			s.says.Set(piece{Text: "A file of this name is there; it will be replaced.", Color: colorQuiet})
		}
	})
}

func (s *reportSheet) chooseFolder() {
	s.p.f.chooseFolder(filepath.Dir(cleanPath(s.path.Text)), func(folder string) {
		s.path.SetText(filepath.Join(folder, filepath.Base(s.path.Text)))
	})
}

// submit writes the report.
func (s *reportSheet) submit() {
	if s.work.running() {
		return
	}
	if s.written != "" {
		s.open()
		return
	}
	path := cleanPath(s.path.Text)
	if path == "" {
		s.says.Set(piece{Text: "Say into which file.", Color: theme.ColorNameError})
		s.p.f.focus(s.path)
		return
	}
	if filepath.Ext(path) == "" {
		path += ".pdf"
	}
	f := s.p.f
	f.settings.Reports = filepath.Dir(path)
	f.keepSettings()
	write := s.p.n.Report
	if s.reader.Selected == "bench" {
		write = s.p.n.Cards
	}
	job := write(f.ctx, inspection.ReportOrder{Reader: s.reader.Selected, Paper: s.paper.Selected, Path: path, Causes: s.causes.On})
	s.says.Set(piece{Text: "Writing …", Color: colorQuiet})
	s.work.run(job, func() bool { return s.p.side.sheet == s }, func(err error) { s.ended(path, job, err) })
	s.show()
}

func (s *reportSheet) ended(path string, job *inspection.Job, err error) {
	if err != nil {
		w := wordsFor("The report was not written.", err)
		s.says.Set(piece{Text: w.Title + " ", Bold: true, Color: theme.ColorNameError}, piece{Text: w.Message + " " + w.Hint})
		s.show()
		return
	}
	s.written = path
	s.says.Set(piece{Text: "Written: ", Bold: true}, piece{Text: path + ". "},
		piece{Text: withoutSays(job), Color: theme.ColorNameError})
	s.show()
	s.p.f.focus(s.openIt)
}

// withoutSays tells which photos a report had to do without, empty for none.
func withoutSays(job *inspection.Job) string {
	gone := job.Warnings()
	if len(gone) == 0 {
		return ""
	}
	return "Printed without " + strings.Join(gone, "; ") + ". The report says so in their places; attach them again if they are found."
}

func (s *reportSheet) open() { s.p.openFile(s.written) }

// openFile has the system show a file.
func (p *inspectionPlace) openFile(path string) {
	at := &url.URL{Scheme: "file", Path: filepath.ToSlash(path)}
	if err := p.f.app.OpenURL(at); err != nil {
		p.notices.put(notice{ID: "open-file", Warns: true, words: words{
			Title: "It could not be opened from here.", Message: "It is written: " + path}})
	}
}

// reported tells of a report whose sheet was closed meanwhile.
func (p *inspectionPlace) reported(path string, job *inspection.Job, err error) {
	if err != nil {
		p.notices.put(notice{ID: "report", Warns: true, words: wordsFor("The report was not written.", err)})
		return
	}
	p.notices.put(notice{ID: "report", Warns: withoutSays(job) != "", words: words{Title: "The report is written.", Message: path, Hint: withoutSays(job)},
		Do: "Open it", Doing: func() { p.openFile(path) }})
}

func (p *inspectionPlace) showReport() {
	s := newReportSheet(p)
	p.side.put(s)
	s.begin()
}

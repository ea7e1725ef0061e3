package ui

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/inspection"
	"fettlebook/assess/term"
)

// attachSheet chooses photo files: a path can be typed or pasted, folders walked,
// several files ticked. Fyne's own dialog takes one file and hardly any keys.
type attachSheet struct {
	p      *inspectionPlace
	path   *field
	list   *rows
	lane   *container.Scroll
	says   *caption
	do     *button
	page   fyne.CanvasObject
	folder string
	// ticked holds the names of the files that were picked in this folder.
	ticked map[string]bool
	photos []string
	// pasted are the paths of files that were pasted, by how they are listed; nil
	// while a folder is.
	pasted map[string]string
	watch  *toggle
	// asked numbers the folders that were read: a late answer is dropped.
	asked int
}

func newAttachSheet(p *inspectionPlace) *attachSheet {
	s := &attachSheet{p: p, ticked: map[string]bool{}}
	s.path = newField(p.f, "a photo file or a folder")
	s.path.OnSubmitted = func(string) { s.follow() }
	s.path.onKey = func(name fyne.KeyName) bool {
		if name == fyne.KeyDown && len(s.list.Items) > 0 {
			p.f.focus(s.list)
			return true
		}
		return false
	}
	s.path.onPaste = s.paste
	s.watch = newToggle(p.f, "take in by itself what appears in this folder", s.toggleWatch)
	s.list = newRows(p.f)
	s.list.LeadWidth = 30
	s.list.OnSelected = func(string) { s.list.RevealIn(s.lane) }
	s.list.OnEnter = s.enter
	s.list.OnRune = func(r rune) bool {
		switch r {
		case ' ':
			s.tick(s.list.Selected)
			return true
		case '*':
			s.tickAll()
			return true
		}
		return false
	}
	s.list.OnKey = func(name fyne.KeyName) bool {
		if name == fyne.KeyBackspace {
			s.open(filepath.Dir(s.folder))
			return true
		}
		return false
	}
	s.lane = container.NewVScroll(s.list)
	s.says = newCaption("", colorQuiet).small()
	s.do = newButton(p.f, "Attach", theme.ContentAddIcon(), s.submit).primary()
	s.page = s.build()
	return s
}

func (s *attachSheet) build() fyne.CanvasObject {
	p := s.p
	stage := newDrop(p.f, stageWords(), func(word string) { p.viewer.newStage = stageOf(word) })
	stage.show(term.Plain(p.viewer.newStage))
	to := newChoices(p.f, []choice{{ID: "part", Label: shortened(lower(p.n.PartName(p.part)), 24)}, {ID: "none", Label: "no part yet"}},
		func(id string) { p.viewer.newLoose = id == "none" })
	to.Small = true
	to.Mark("part")
	if p.viewer.newLoose || p.part == "" {
		to.Mark("none")
	}
	to.SetDisabled(p.part == "")
	up := newButton(p.f, "", theme.MoveUpIcon(), func() { s.open(filepath.Dir(s.folder)) })
	all := newButton(p.f, "All   *", nil, s.tickAll)
	what := container.NewBorder(nil, nil, newCaption("they show", colorQuiet).small().whole(), stage, to)
	head := column(6, what,
		container.NewBorder(nil, nil, nil, up, s.path), s.watch, s.says)
	title := sheetHead(p.f, "Attach photos", nil, p.side.close)
	foot := column(6,
		quietly("Enter opens a folder or attaches a file; Space ticks several; Backspace goes up. Photos and folders can also be dropped on the window, or their paths pasted, many at once."),
		quietly("The originals are kept as they are: what the camera wrote into them stays, also the place and its serial number."),
		line(6, s.do, all, newButton(p.f, "Cancel   Esc", nil, p.side.close)))
	return container.NewBorder(column(4, title, head), padded(foot, 6, 0, 0, 0), nil, nil, padded(s.lane, 6, 0, 0, 0))
}

func (s *attachSheet) object() fyne.CanvasObject { return s.page }
func (s *attachSheet) refreshed()                {}
func (s *attachSheet) closed()                   { s.asked++ }

// begin shows the folder that was used last.
func (s *attachSheet) begin() {
	folder := s.p.f.settings.Photos
	if folder == "" {
		folder, _ = os.UserHomeDir()
	}
	s.open(folder)
	s.p.f.focus(s.path)
	s.path.TypedShortcut(&fyne.ShortcutSelectAll{}) // what is typed takes its place
}

// folderRead is what a folder holds.
type folderRead struct {
	folders, photos []string
	sizes           map[string]int64
}

// open reads a folder beside the window: it may lie on a slow drive.
func (s *attachSheet) open(folder string) {
	s.asked++
	asked := s.asked
	s.path.SetText(folder)
	s.path.CursorColumn = len([]rune(folder))
	s.says.SetText("Reading …")
	beside(s.p.f, func(context.Context) (folderRead, error) { return readFolder(folder) },
		func(read folderRead, err error) {
			if asked != s.asked {
				return
			}
			if err != nil {
				s.tell(wordsFor("", err))
				return
			}
			s.folder, s.photos, s.ticked, s.pasted = folder, read.photos, map[string]bool{}, nil
			s.show(read)
		})
}

func (s *attachSheet) tell(w words) {
	s.says.SetColor(theme.ColorNameError)
	s.says.SetText(w.Message + " " + w.Hint)
}

// readFolder lists the files that may be photos, by their names' ends. Any file can
// be attached by typing its path; whether it is a photo shows when it is read.
func readFolder(folder string) (folderRead, error) {
	read := folderRead{sizes: map[string]int64{}}
	entries, err := os.ReadDir(folder)
	if err != nil {
		return read, fmt.Errorf("the folder can't be read: %w", err)
	}
	for _, e := range entries {
		name := e.Name()
		switch {
		case strings.HasPrefix(name, "."):
		case e.IsDir():
			read.folders = append(read.folders, name)
		case slices.Contains(inspection.PhotoEndings(), strings.ToLower(filepath.Ext(name))):
			read.photos = append(read.photos, name)
			if info, err := e.Info(); err == nil {
				read.sizes[name] = info.Size()
			}
		}
	}
	return read, nil
}

// mostListed bounds how many rows of a folder are drawn.
const mostListed = 400

func (s *attachSheet) show(read folderRead) {
	var items []rowItem
	for _, name := range read.folders {
		items = append(items, rowItem{ID: "/" + name, Lead: "›", Text: name, Word: "folder"})
	}
	for _, name := range read.photos {
		items = append(items, rowItem{ID: name, Box: true, Text: name, Word: sizeSays(read.sizes[name])})
	}
	says := countOf(len(read.photos), "photo", "photos") + ", " + countOf(len(read.folders), "folder", "folders")
	if len(items) > mostListed {
		says += fmt.Sprintf("; the first %d are listed", mostListed)
		items = items[:mostListed]
	}
	s.says.SetColor(colorQuiet)
	s.says.SetText(says)
	s.list.Selected = ""
	s.list.SetItems(items)
	s.lane.ScrollToTop()
	s.lane.Refresh()
	s.showTicks()
	s.showWatch()
}

// paste lists the files whose paths were pasted, all of them ticked. A single path
// is left to the field, where it can be mended.
func (s *attachSheet) paste(text string) bool {
	paths := pathsIn(text)
	if len(paths) < 2 && !strings.HasPrefix(strings.TrimSpace(text), "file://") {
		return false
	}
	s.asked++
	s.photos, s.ticked, s.pasted = nil, map[string]bool{}, map[string]string{}
	var items []rowItem
	for _, path := range paths {
		name := filepath.Base(path)
		for s.pasted[name] != "" {
			name += " "
		}
		s.pasted[name], s.ticked[name] = path, true
		s.photos = append(s.photos, name)
		if len(items) < mostListed {
			items = append(items, rowItem{ID: name, Box: true, Text: name, Quiet: filepath.Dir(path)})
		}
	}
	s.path.SetText("")
	s.says.SetColor(colorQuiet)
	s.says.SetText(countOf(len(paths), "path was pasted", "paths were pasted"))
	s.list.Selected = ""
	s.list.SetItems(items)
	s.lane.ScrollToTop()
	s.lane.Refresh()
	s.showTicks()
	s.watch.Hide()
	return true
}

func sizeSays(bytes int64) string {
	if bytes >= 1<<20 {
		return fmt.Sprintf("%.1f MB", float64(bytes)/(1<<20))
	}
	return fmt.Sprintf("%d KB", (bytes+1023)/1024)
}

func (s *attachSheet) tick(name string) {
	if name == "" || strings.HasPrefix(name, "/") {
		return
	}
	s.ticked[name] = !s.ticked[name]
	s.showTicks()
}

func (s *attachSheet) tickAll() {
	all := len(s.ticks()) < len(s.photos)
	for _, name := range s.photos {
		s.ticked[name] = all
	}
	s.showTicks()
}

func (s *attachSheet) ticks() []string {
	var names []string
	for _, name := range s.photos {
		if s.ticked[name] {
			names = append(names, name)
		}
	}
	return names
}

func (s *attachSheet) showTicks() {
	items := slices.Clone(s.list.Items)
	for i := range items {
		if strings.HasPrefix(items[i].ID, "/") {
			continue
		}
		items[i].Ticked = s.ticked[items[i].ID]
	}
	s.list.SetItems(items)
	says := "Attach "
	if len(s.ticks()) == 0 && len(s.photos) > 1 {
		says += "all "
	}
	s.do.SetText(says + countOf(len(s.picked()), "photo", "photos") + "   Ctrl+Enter")
	if len(s.photos) == 0 {
		s.do.Disable()
	} else {
		s.do.Enable()
	}
}

// picked are the photos that are ticked, all of them where none is.
func (s *attachSheet) picked() []string {
	if names := s.ticks(); len(names) > 0 || s.pasted != nil {
		return names
	}
	return s.photos
}

// enter opens a folder, or attaches what is ticked, or else the one file.
func (s *attachSheet) enter(id string) {
	if name, ok := strings.CutPrefix(id, "/"); ok {
		s.open(filepath.Join(s.folder, name))
		s.p.f.focus(s.list)
		return
	}
	if len(s.ticks()) == 0 {
		s.ticked[id] = true
	}
	s.submit()
}

// follow goes to the path that was typed: a folder is opened, a file attached.
func (s *attachSheet) follow() {
	paths := pathsIn(s.path.Text)
	switch {
	case len(paths) > 1:
		s.attach(filepath.Dir(paths[0]), paths)
		return
	case len(paths) == 0 && s.pasted != nil:
		s.submit()
		return
	case len(paths) == 0:
		return
	}
	path := paths[0]
	asked := s.asked
	beside(s.p.f, func(context.Context) (os.FileInfo, error) { return os.Stat(path) },
		func(info os.FileInfo, err error) {
			switch {
			case asked != s.asked:
			case err != nil:
				s.tell(wordsFor("", fmt.Errorf("there is no such file or folder; check what is typed")))
			case info.IsDir() && path == s.folder && len(s.ticks()) > 0:
				s.submit()
			case info.IsDir():
				s.open(path)
				s.p.f.focus(s.list)
			default:
				s.attach(filepath.Dir(path), []string{path})
			}
		})
}

func (s *attachSheet) submit() {
	names := s.picked()
	if len(names) == 0 || !s.reads() {
		if s.pasted == nil {
			s.follow()
		}
		return
	}
	paths := make([]string, len(names))
	for i, name := range names {
		paths[i] = filepath.Join(s.folder, name)
		if s.pasted != nil {
			paths[i] = s.pasted[name]
		}
	}
	s.attach(s.folder, paths)
}

// reads reports whether the list is of what stands in the field.
func (s *attachSheet) reads() bool {
	return s.pasted != nil || len(s.ticks()) > 0 || filepath.Clean(s.path.Text) == filepath.Clean(s.folder)
}

func (s *attachSheet) attach(folder string, paths []string) {
	s.p.f.settings.Photos = folder
	s.p.f.keepSettings()
	s.p.side.close()
	s.p.attach(paths)
}

package house_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// rules is what the section "The house" of DEVELOPERS.md says.
type rules struct {
	rooms   []string                   // folders, in the order of the drawing of the house
	allowed map[string]map[string]bool // room -> rooms that it may import
	only    []onlyRule
}

// An onlyRule says where something may be done: in some rooms, or in single files.
type onlyRule struct {
	libraries []string // import paths; one that ends in a slash stands for all below it
	action    string   // or what is done, in words
	places    []string // rooms, or files that end in .go
}

func (o onlyRule) allows(room, file string) bool {
	return slices.Contains(o.places, room) || slices.Contains(o.places, file)
}

func (o onlyRule) covers(imported string) bool {
	for _, lib := range o.libraries {
		if imported == lib || strings.HasPrefix(imported, strings.TrimSuffix(lib, "/")+"/") {
			return true
		}
	}
	return false
}

var (
	houseSection = regexp.MustCompile(`(?s)\n## The house\n(.*?)(\n## |\z)`)
	houseDrawing = regexp.MustCompile("(?s)```\n(.*?)\n```")
	drawnRoom    = regexp.MustCompile(`^ {0,2}([a-z]+(?:/[a-z]+)*) {2,}\S`)
	onlyFor      = regexp.MustCompile(`^(\S+) \((\S+) only\)$`)
	codeSpan     = regexp.MustCompile("`([^`]+)`")
)

func parseRules(page string) (*rules, error) {
	section := houseSection.FindStringSubmatch(page)
	if section == nil {
		return nil, fmt.Errorf("DEVELOPERS.md: no section \"## The house\"")
	}
	drawing := houseDrawing.FindStringSubmatch(section[1])
	if drawing == nil {
		return nil, fmt.Errorf("DEVELOPERS.md: The house: no drawing of the rooms between ``` lines")
	}
	r := &rules{allowed: map[string]map[string]bool{}}
	for _, line := range strings.Split(drawing[1], "\n") {
		if found := drawnRoom.FindStringSubmatch(line); found != nil && found[1] != "testdata" {
			r.rooms = append(r.rooms, found[1])
		}
	}
	if err := r.readTables(section[1]); err != nil {
		return nil, fmt.Errorf("DEVELOPERS.md: The house: %w", err)
	}
	for _, room := range r.rooms {
		if r.allowed[room] == nil {
			return nil, fmt.Errorf("DEVELOPERS.md: The house: %s is drawn, but the table of imports has no row for it", room)
		}
	}
	return r, nil
}

// readTables reads the two Markdown tables, told apart by their first heading.
func (r *rules) readTables(section string) error {
	var heading string
	for _, line := range strings.Split(section, "\n") {
		if !strings.HasPrefix(line, "|") {
			heading = ""
			continue
		}
		cells := strings.Split(strings.Trim(line, "| "), "|")
		if len(cells) != 2 {
			return fmt.Errorf("a row without two cells: %s", line)
		}
		left, right := strings.TrimSpace(cells[0]), strings.TrimSpace(cells[1])
		var err error
		switch {
		case heading == "":
			heading = left
		case strings.HasPrefix(left, "---"):
		case heading == "room":
			err = r.addRow(left, right)
		case heading == "what":
			err = r.addOnly(left, right)
		}
		if err != nil {
			return err
		}
	}
	if len(r.allowed) == 0 || len(r.only) == 0 {
		return fmt.Errorf("one of its two tables is missing (room, what)")
	}
	return nil
}

func (r *rules) addRow(left, right string) error {
	var rooms []string
	for _, name := range list(left) {
		found, err := r.named(name)
		if err != nil {
			return err
		}
		rooms = append(rooms, found...)
	}
	above := keys(r.allowed)
	for _, room := range rooms {
		if r.allowed[room] != nil {
			return fmt.Errorf("%s has two rows", room)
		}
		r.allowed[room] = map[string]bool{}
	}
	for _, item := range list(right) {
		what, into, err := r.permission(item, rooms, above)
		if err != nil {
			return fmt.Errorf("row %s: %w", left, err)
		}
		for _, room := range into {
			for _, w := range what {
				r.allowed[room][w] = true
			}
		}
	}
	return nil
}

// permission reads one item of a row's right cell: what may be imported, and into
// which of the row's rooms.
func (r *rules) permission(item string, rooms, above []string) (what, into []string, err error) {
	switch item {
	case "nothing":
		return nil, nil, nil
	case "anything":
		return r.rooms, rooms, nil
	case "everything above":
		return above, rooms, nil
	}
	if base, ok := strings.CutSuffix(item, " and what it imports"); ok {
		what, err = r.named(base)
		if err == nil {
			what = append(what, keys(r.allowed[what[0]])...)
		}
		return what, rooms, err
	}
	if found := onlyFor.FindStringSubmatch(item); found != nil {
		item = found[1]
		if rooms, err = r.named(found[2]); err != nil {
			return nil, nil, err
		}
	}
	what, err = r.named(item)
	return what, rooms, err
}

func (r *rules) addOnly(left, right string) error {
	rule := onlyRule{}
	for _, span := range codeSpan.FindAllStringSubmatch(left, -1) {
		rule.libraries = append(rule.libraries, span[1])
	}
	if rule.libraries == nil {
		rule.action = left
	}
	for _, name := range list(right) {
		if strings.HasSuffix(name, ".go") {
			rule.places = append(rule.places, name)
			continue
		}
		found, err := r.named(name)
		if err != nil {
			return fmt.Errorf("row %s: %w", left, err)
		}
		rule.places = append(rule.places, found...)
	}
	r.only = append(r.only, rule)
	return nil
}

// named turns a name of the tables into rooms: the folder itself, the last part of
// a folder, or the folder above several (cmd).
func (r *rules) named(name string) ([]string, error) {
	if slices.Contains(r.rooms, name) {
		return []string{name}, nil
	}
	var found []string
	for _, room := range r.rooms {
		if strings.HasSuffix(room, "/"+name) || strings.HasPrefix(room, name+"/") {
			found = append(found, room)
		}
	}
	if found == nil {
		return nil, fmt.Errorf("%q is no room of the drawing", name)
	}
	return found, nil
}

// room is the room that a folder belongs to. A room owns the folders below it,
// unless rooms stand there: then every one of them must be named.
func (r *rules) room(dir string) (string, bool) {
	best := ""
	for _, room := range r.rooms {
		if dir == room || strings.HasPrefix(dir, room+"/") && !r.hasRoomsBelow(room) {
			if len(room) > len(best) {
				best = room
			}
		}
	}
	return best, best != ""
}

func (r *rules) hasRoomsBelow(room string) bool {
	return slices.ContainsFunc(r.rooms, func(other string) bool {
		return strings.HasPrefix(other, room+"/")
	})
}

func list(cell string) []string {
	parts := strings.Split(cell, ",")
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return parts
}

func keys[V any](m map[string]V) []string {
	all := make([]string, 0, len(m))
	for k := range m {
		all = append(all, k)
	}
	slices.Sort(all)
	return all
}

// TestRulesAreUnderstood holds the reading of the page against what a person reads
// there; it needs a change only where the page changes in meaning.
func TestRulesAreUnderstood(t *testing.T) {
	r := loadModule(t, moduleRoot(t)).rules
	for _, c := range []struct {
		room, imported string
		want           bool
	}{
		{"assess/term", "assess/gauge", false},
		{"assess/plane", "assess/gauge", true},
		{"assess/record", "assess/term", true},
		{"assess/record", "assess/gauge", false},
		{"assess/spec", "assess/gauge", true},
		{"assess", "assess/plane", true},
		{"assess", "assess/archive", false},
		{"assess/build", "assess", true},
		{"assess/build", "assess/plane", true},
		{"assess/build", "assess/photo", false},
		{"report", "report/pdf", true},
		{"report/pdf", "assess/term", false},
		{"assess/inspection", "assess/archive", true},
		{"assess/inspection", "report/exchange", true},
		{"assess/inspection", "assets", true},
		{"assess/inspection", "ui", false},
		{"ui", "assess/inspection", true},
		{"ui", "assess", false},
		{"ui", "assess/archive", false},
		{"cmd/fettlebook", "ui", true},
		{"cmd/fettlebook", "assess/archive", true},
	} {
		if got := r.allowed[c.room][c.imported]; got != c.want {
			t.Errorf("%s may import %s: read as %v, want %v", c.room, c.imported, got, c.want)
		}
	}
	for dir, want := range map[string]string{
		"assess":                    "assess",
		"assess/archive":            "assess/archive",
		"assess/archive/conformity": "assess/archive",
		"assess/cellar":             "",
		"ui/photoview":              "ui",
		"cmd/other":                 "",
		".":                         "",
	} {
		if got, _ := r.room(dir); got != want {
			t.Errorf("folder %s is of room %q, want %q", dir, got, want)
		}
	}
}

package ui

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// keyboard is where a widget passes the keys that it does not use itself.
type keyboard interface {
	typedKey(name fyne.KeyName) bool
	typedRune(r rune) bool
	shortcut(s fyne.Shortcut) bool
}

// stroke is one way to press for an action: a key with modifiers, or a plain
// letter, which acts only while nothing is being written.
type stroke struct {
	key  fyne.KeyName
	mod  fyne.KeyModifier
	rune rune
}

// ctrl is Control, and Command where that is the custom.
func ctrl(key fyne.KeyName) stroke { return stroke{key: key, mod: fyne.KeyModifierShortcutDefault} }

func ctrlShift(key fyne.KeyName) stroke {
	return stroke{key: key, mod: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift}
}

func alt(key fyne.KeyName) stroke { return stroke{key: key, mod: fyne.KeyModifierAlt} }

func plain(key fyne.KeyName) stroke { return stroke{key: key} }

func letter(r rune) stroke { return stroke{rune: r} }

var keyWords = map[fyne.KeyName]string{
	fyne.KeyLeft: "←", fyne.KeyRight: "→", fyne.KeyUp: "↑", fyne.KeyDown: "↓",
	fyne.KeyPageUp: "Page Up", fyne.KeyPageDown: "Page Down", fyne.KeyReturn: "Enter", fyne.KeyEscape: "Esc",
	fyne.KeyComma: ",", fyne.KeyDelete: "Delete", fyne.KeySpace: "Space",
}

// says names the stroke as it stands on the keyboard.
func (s stroke) says() string {
	if s.rune != 0 {
		return strings.ToUpper(string(s.rune))
	}
	name := string(s.key)
	if word, ok := keyWords[s.key]; ok {
		name = word
	}
	for _, m := range []struct {
		mod  fyne.KeyModifier
		word string
	}{{fyne.KeyModifierShift, "Shift"}, {fyne.KeyModifierAlt, "Alt"}, {fyne.KeyModifierControl, "Ctrl"}, {fyne.KeyModifierSuper, "Cmd"}} {
		if s.mod&m.mod != 0 {
			name = m.word + "+" + name
		}
	}
	return name
}

// action is something that can be done, with all its strokes. An action without
// run is one that a widget does itself; it stands in the list of keys all the same.
type action struct {
	says    string
	strokes []stroke
	run     func()
	// changes marks what an archive that is open for reading only refuses.
	changes bool
	// unlisted leaves it out of the list of keys: another line there tells of it.
	unlisted bool
}

func (a action) keys() string {
	words := make([]string, len(a.strokes))
	for i, s := range a.strokes {
		words[i] = s.says()
	}
	return strings.Join(words, " or ")
}

// shortcutOf turns what Fyne reports into a stroke. Undo, redo and the
// like come as types of their own.
func shortcutOf(s fyne.Shortcut) (stroke, bool) {
	switch s := s.(type) {
	case *desktop.CustomShortcut:
		return stroke{key: s.KeyName, mod: s.Modifier}, true
	case *fyne.ShortcutUndo:
		return ctrl(fyne.KeyZ), true
	case *fyne.ShortcutRedo:
		return ctrl(fyne.KeyY), true
	case *fyne.ShortcutSelectAll:
		return ctrl(fyne.KeyA), true
	case *fyne.ShortcutCopy:
		return ctrl(fyne.KeyC), true
	case *fyne.ShortcutPaste:
		return ctrl(fyne.KeyV), true
	}
	return stroke{}, false
}

// fyneShortcut is the opposite of shortcutOf.
func (s stroke) fyneShortcut() fyne.Shortcut {
	switch s {
	case ctrl(fyne.KeyZ):
		return &fyne.ShortcutUndo{}
	case ctrl(fyne.KeyY):
		return &fyne.ShortcutRedo{}
	case ctrl(fyne.KeyA):
		return &fyne.ShortcutSelectAll{}
	case ctrl(fyne.KeyC):
		return &fyne.ShortcutCopy{}
	case ctrl(fyne.KeyV):
		return &fyne.ShortcutPaste{}
	}
	return &desktop.CustomShortcut{KeyName: s.key, Modifier: s.mod}
}

// actions find what a stroke does.
type actions []action

func (as actions) find(s stroke) (action, bool) {
	for _, a := range as {
		for _, own := range a.strokes {
			if own == s && a.run != nil {
				return a, true
			}
		}
	}
	return action{}, false
}

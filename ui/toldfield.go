package ui

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/gauge"
)

// toldField is a field with its name above it and, beside the name, how the entry
// is understood; below it stands what is wrong with it until it is changed.
type toldField struct {
	*field
	// Means says how a text is understood; nil for a field in which all is a text.
	Means func(text string) string
	// OnEdited is called when the text was changed.
	OnEdited func()

	means  *caption
	wrong  *paragraph
	fault  string
	object fyne.CanvasObject
}

func newToldField(keys keyboard, name, hint string) *toldField {
	t := &toldField{field: newField(keys, hint), means: newCaption("", colorQuiet).small().toEnd(), wrong: newParagraph()}
	t.wrong.Hide()
	t.OnChanged = func(string) {
		t.refuse("")
		t.tell()
		if t.OnEdited != nil {
			t.OnEdited()
		}
	}
	head := container.NewBorder(nil, nil, newCaption(name, colorQuiet).small().whole(), nil, t.means)
	t.object = column(1, head, t.field, t.wrong)
	return t
}

// tell says how the entry is understood.
func (t *toldField) tell() {
	if t.Means != nil {
		t.means.SetText(t.Means(t.Text))
	}
}

// refuse says at the field what is wrong with the entry; nothing takes it back.
func (t *toldField) refuse(says string) {
	if says == t.fault {
		return
	}
	t.fault = says
	t.wrong.Set(piece{Text: says, Color: theme.ColorNameError, Small: true})
	t.wrong.Hidden = says == ""
	t.object.Refresh()
}

// meansLength says how a length is understood in a unit: "= 18.44 mm".
func meansLength(text string, unit gauge.Unit) string {
	if strings.TrimSpace(text) == "" {
		return ""
	}
	e, err := gauge.ParseEntry(text, unit)
	if err != nil {
		return "= ?"
	}
	return "= " + e.Length.WholeText(unit, e.Step)
}

// lengthFault says what is wrong with a length of a part; empty for nothing.
func lengthFault(text string, unit gauge.Unit) string {
	l, err := gauge.ParseLength(text, unit)
	switch {
	case err != nil:
		return sentence(err.Error())
	case l <= 0:
		return "A length of a part is above zero."
	}
	return ""
}

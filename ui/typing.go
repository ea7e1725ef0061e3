package ui

import (
	"time"
	"unicode/utf8"
)

// typing tells an instrument that types like a keyboard from a hand: no hand writes
// a whole number at that pace.
type typing struct {
	began time.Time
	text  string
}

// eachLetter is how long an instrument takes for a letter at the most; a quick hand
// takes twice as long.
const eachLetter = 40 * time.Millisecond

// fewestLetters are needed to tell.
const fewestLetters = 3

// changed follows what is in the field.
func (t *typing) changed(text string) {
	if t.text == "" || utf8.RuneCountInString(text) == 1 {
		t.began = time.Now()
	}
	t.text = text
}

// byInstrument reports whether what stands in the field was typed by an instrument
// just now.
func (t *typing) byInstrument() bool {
	n := utf8.RuneCountInString(t.text)
	return n >= fewestLetters && time.Since(t.began) < time.Duration(n)*eachLetter
}

package ui

import (
	"context"
	"errors"
	"io/fs"
	"strings"
	"unicode"
	"unicode/utf8"

	"fettlebook/assess/inspection"
)

// words tell a person of a fault: what did not happen, why, and what to do.
type words struct {
	Title   string
	Message string
	Hint    string
}

// wordsFor turns an error into words. What was being done comes from the caller,
// as a sentence of what did not happen: "The photo was not attached". The rooms
// below say what is wrong and, after a semicolon, what to do about it; both
// become sentences here. It is the only place of the window that words errors.
func wordsFor(did string, err error) words {
	w := words{Title: did}
	switch {
	case err == nil:
		return w
	case errors.Is(err, context.Canceled):
		w.Message = "It was stopped before it was finished."
		return w
	case errors.Is(err, context.DeadlineExceeded):
		w.Message = "It took too long."
		w.Hint = "Is the disk or the network slow? Try again."
		return w
	}
	w.Message, w.Hint = split(err.Error())
	if w.Hint == "" {
		w.Hint = hintFor(err)
	}
	return w
}

func hintFor(err error) string {
	switch {
	case errors.Is(err, fs.ErrPermission):
		return "Your user has no right to do that there; choose another place or have the right given."
	case errors.Is(err, fs.ErrNotExist):
		return "It is not there any more: moved, renamed, or its drive is unplugged."
	}
	return ""
}

// split divides what is wrong from what to do about it, at the last semicolon.
func split(text string) (message, hint string) {
	text = strings.TrimSpace(text)
	if at := strings.LastIndex(text, "; "); at > 0 {
		return sentence(text[:at]), sentence(text[at+2:])
	}
	return sentence(text), ""
}

// sentence begins a text with a capital and ends it with a full stop.
func sentence(text string) string {
	text = strings.TrimSpace(text)
	if text == "" {
		return ""
	}
	text = capital(text)
	if last, _ := utf8.DecodeLastRuneInString(text); !strings.ContainsRune(".!?…:", last) {
		text += "."
	}
	return text
}

// capital begins a text with a capital letter. What begins with a name in lower
// case of several capitals ("pH", "mm") is not met here.
func capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if !unicode.IsLower(first) {
		return text
	}
	return string(unicode.ToUpper(first)) + text[size:]
}

// lower begins a text with a small letter, for the middle of a sentence. A word
// in capitals stays.
func lower(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	second, _ := utf8.DecodeRuneInString(text[size:])
	if !unicode.IsUpper(first) || unicode.IsUpper(second) || unicode.IsDigit(second) {
		return text
	}
	return string(unicode.ToLower(first)) + text[size:]
}

// failureLines tell which files were not taken in, one line each.
func failureLines(failed []inspection.PhotoFailure) []string {
	lines := make([]string, len(failed))
	for i, f := range failed {
		w := wordsFor("", f.Err)
		lines[i] = strings.TrimSpace(w.Message + " " + w.Hint)
	}
	return lines
}

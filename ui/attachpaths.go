package ui

import (
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"unicode"
)

// pathsIn finds the paths in a text that was typed or pasted: one to a line, or
// several on one line, quoted or not, as addresses that begin with file:// or as a
// file manager copies them.
func pathsIn(text string) []string {
	var paths []string
	for _, line := range strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' || r == 0 }) {
		line = strings.TrimSpace(line)
		switch {
		case line == "", strings.HasPrefix(line, "#"):
		case line == "copy", line == "cut", strings.HasPrefix(line, "x-special/"):
			// what a file manager puts before the addresses
		default:
			paths = append(paths, pathsInLine(line)...)
		}
	}
	return paths
}

func pathsInLine(line string) []string {
	words := shellWords(line)
	several := strings.ContainsAny(line[:1], `"'`) || strings.HasPrefix(line, "file://")
	if !several {
		// A name may hold spaces: several paths are told by how each begins.
		several = len(words) > 1
		for _, w := range words {
			several = several && beginsAPath(w)
		}
	}
	if !several {
		words = []string{line}
		if escapes := shellWords(line); runtime.GOOS != "windows" && len(escapes) == 1 {
			words = escapes
		}
	}
	var paths []string
	for _, w := range words {
		if path := cleanPath(w); path != "" {
			paths = append(paths, path)
		}
	}
	return paths
}

func beginsAPath(word string) bool {
	return strings.HasPrefix(word, "/") || strings.HasPrefix(word, "~/") || strings.HasPrefix(word, "file://") ||
		strings.HasPrefix(word, `\\`) || (len(word) > 2 && word[1] == ':' && (word[2] == '\\' || word[2] == '/'))
}

// shellWords cuts a line at its spaces, but for those in quotes and, where a
// backslash separates no folders, those behind one.
func shellWords(line string) []string {
	var words []string
	var word strings.Builder
	quote, begun := rune(0), false
	end := func() {
		if begun {
			words = append(words, word.String())
		}
		word.Reset()
		begun = false
	}
	runes := []rune(line)
	for i := 0; i < len(runes); i++ {
		switch r := runes[i]; {
		case quote != 0 && r == quote:
			quote = 0
		case quote == 0 && !begun && (r == '"' || r == '\''):
			quote, begun = r, true
		case quote == 0 && r == '\\' && runtime.GOOS != "windows" && i+1 < len(runes) && strings.ContainsRune(` '"()&\`, runes[i+1]):
			i++
			word.WriteRune(runes[i])
			begun = true
		case quote == 0 && unicode.IsSpace(r):
			end()
		default:
			word.WriteRune(r)
			begun = true
		}
	}
	end()
	return words
}

// cleanPath takes the quotes and the scheme off that a path may be pasted with,
// and puts the home folder for a tilde.
func cleanPath(text string) string {
	text = strings.TrimSpace(text)
	if len(text) >= 2 && (text[0] == '"' || text[0] == '\'') && text[len(text)-1] == text[0] {
		text = text[1 : len(text)-1]
	}
	if rest, ok := strings.CutPrefix(text, "file://"); ok {
		text = rest
		if u, err := url.Parse("file://" + rest); err == nil && u.Path != "" {
			text = u.Path
		}
		if len(text) > 2 && text[0] == '/' && text[2] == ':' {
			text = text[1:] // a drive
		}
	}
	if text == "" {
		return ""
	}
	if rest, ok := strings.CutPrefix(text, "~"); ok && (rest == "" || os.IsPathSeparator(rest[0])) {
		if home, err := os.UserHomeDir(); err == nil {
			text = home + rest
		}
	}
	return filepath.Clean(text)
}

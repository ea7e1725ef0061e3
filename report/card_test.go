package report

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"fettlebook/report/pdf"
)

// A card that is taller than a page goes on on the next: nothing is lost, nothing runs
// into the foot or off the paper, and each page says whose it is.
func TestATallCardBreaks(t *testing.T) {
	typeface, err := os.ReadFile("../assets/fonts/NotoSans-Regular.ttf")
	if err != nil {
		t.Fatal(err)
	}
	surface := func(number, dimensions int) CardSurface {
		s := CardSurface{Number: number, Name: fmt.Sprintf("surface-%d", number), Felt: true}
		for i := range 6 {
			s.Damages = append(s.Damages, CardDamage{Name: fmt.Sprintf("damage-%d-%d", number, i), Steps: 3})
		}
		for i := range dimensions {
			s.Dimensions = append(s.Dimensions, CardDimension{Name: fmt.Sprintf("size-%d-%d", number, i), Limit: "18.415 mm"})
		}
		return s
	}
	many := Card{Name: "Manyfaced"}
	for i := range 40 {
		many.Surfaces = append(many.Surfaces, surface(i+1, i%3))
	}
	small := Card{Name: "Small", Surfaces: []CardSurface{surface(1, 1)}}
	for name, c := range map[string]struct {
		cards []Card
		// pages is how many there are, and on each of those of the tall card its name.
		pages int
	}{
		"many surfaces":              {[]Card{many}, 4},
		"one surface, many readings": {[]Card{{Name: "Longshaft", Surfaces: []CardSurface{surface(1, 1), surface(2, 110), surface(3, 1)}}}, 3},
		"between small ones":         {[]Card{small, many, small, small}, 6},
		"two small ones":             {[]Card{small, small}, 1},
	} {
		for paperName, paper := range map[string]pdf.Paper{"a4": pdf.A4, "letter": pdf.Letter} {
			t.Run(name+" "+paperName, func(t *testing.T) {
				var file bytes.Buffer
				order := CardOrder{Paper: paper, Fonts: pdf.Fonts{Regular: typeface, Bold: typeface, Italic: typeface}, Created: time.Date(2026, 5, 12, 14, 0, 0, 0, time.UTC), Unit: "core", Hold: "adjuster to view", Cards: c.cards}
				if err := WriteCards(t.Context(), &file, order); err != nil {
					t.Fatal(err)
				}
				pages := wordsOf(t, file.Bytes())
				if len(pages) != c.pages {
					t.Errorf("there are %d pages, want %d", len(pages), c.pages)
				}
				times := map[string]int{}
				for i, page := range pages {
					foot, lowest := 0.0, 0.0
					named := false
					for _, w := range page.words {
						times[w.text]++
						named = named || strings.HasPrefix(w.text, c.cards[0].Name) || strings.HasPrefix(w.text, many.Name) || strings.HasPrefix(w.text, small.Name)
						switch {
						case w.text == "HOLD,":
							foot = w.top
						case strings.HasPrefix(w.text, "size-"), strings.HasPrefix(w.text, "damage-"), strings.HasPrefix(w.text, "surface-"):
							lowest = max(lowest, w.bottom)
						}
					}
					if !named {
						t.Errorf("page %d does not say whose it is", i+1)
					}
					if foot == 0 || lowest > foot || foot > page.height {
						t.Errorf("page %d: the lowest line ends at %.0f, the foot begins at %.0f of %.0f", i+1, lowest, foot, page.height)
					}
				}
				for _, card := range c.cards {
					for _, s := range card.Surfaces {
						for _, d := range s.Dimensions {
							if card.Name != small.Name && len(c.cards) == 1 && times[d.Name+","] != 1 {
								t.Errorf("%s stands there %d times", d.Name, times[d.Name+","])
							}
						}
						for _, d := range s.Damages {
							if times[d.Name] == 0 {
								t.Errorf("%s is lost", d.Name)
							}
						}
					}
				}
			})
		}
	}
}

type printedPage struct {
	height float64
	words  []printedWord
}

type printedWord struct {
	text        string
	top, bottom float64
}

var (
	pageTag = regexp.MustCompile(`<page width="[0-9.]+" height="([0-9.]+)">`)
	wordTag = regexp.MustCompile(`<word xMin="[-0-9.]+" yMin="([-0-9.]+)" xMax="[-0-9.]+" yMax="([-0-9.]+)">([^<]*)</word>`)
)

// wordsOf finds where the words of a file stand, in points from the top of each page.
func wordsOf(t *testing.T, file []byte) []printedPage {
	t.Helper()
	path := filepath.Join(t.TempDir(), "file.pdf")
	if err := os.WriteFile(path, file, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.CommandContext(t.Context(), "pdftotext", "-bbox", path, "-").Output()
	if err != nil {
		t.Fatalf("pdftotext (Debian: poppler-utils): %v", err)
	}
	number := func(text string) float64 {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	var pages []printedPage
	for _, line := range strings.Split(string(out), "\n") {
		if m := pageTag.FindStringSubmatch(line); m != nil {
			pages = append(pages, printedPage{height: number(m[1])})
		} else if m := wordTag.FindStringSubmatch(line); m != nil {
			last := &pages[len(pages)-1]
			last.words = append(last.words, printedWord{m[3], number(m[1]), number(m[2])})
		}
	}
	return pages
}

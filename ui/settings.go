package ui

import (
	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"fettlebook/assess/gauge"
)

// settings are what only the window needs. What a report prints is kept in the
// archive, never here.
type settings struct {
	Shade  Shade      `json:"shade,omitzero"`
	Unit   gauge.Unit `json:"unit,omitzero"`
	Width  float32    `json:"width,omitzero"`
	Height float32    `json:"height,omitzero"`
	// Photos is the folder that photos were last taken from.
	Photos string `json:"photos,omitzero"`
	// Phone is the folder out of which photos are taken in as they appear, empty for
	// none.
	Phone string `json:"phone,omitzero"`
	// Reports is the folder that a report was last written to.
	Reports string `json:"reports,omitzero"`
	Paper   string `json:"paper,omitzero"`
	// Who was last at work in this window.
	Who string `json:"who,omitzero"`
}

const (
	firstWidth, firstHeight = 1280, 800
	leastWidth, leastHeight = 640, 480
)

// readSettings takes what it can: settings that can't be read are not worth a
// word to the user.
func readSettings(text []byte) settings {
	var s settings
	if err := json.Unmarshal(text, &s); err != nil {
		s = settings{}
	}
	if s.Shade != LightUI && s.Shade != DarkUI {
		s.Shade = AsSystem
	}
	if s.Unit != gauge.Inch {
		s.Unit = gauge.Millimetre
	}
	if s.Width < leastWidth || s.Height < leastHeight {
		s.Width, s.Height = firstWidth, firstHeight
	}
	if s.Paper != "letter" {
		s.Paper = "a4"
	}
	return s
}

func (s settings) text() []byte {
	text, err := json.Marshal(s, jsontext.WithIndent("  "))
	if err != nil {
		return nil
	}
	return append(text, '\n')
}

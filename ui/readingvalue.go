package ui

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/gauge"
	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// keepUp takes over what was changed beside the sheet: the unit of the window, as
// long as no value was typed in another, and the instrument's data. What is edited
// keeps its own.
func (s *readingSheet) keepUp() {
	if s.id == "" {
		if len(s.m.Values) == 0 {
			s.m.Unit = string(s.p.f.settings.Unit)
		}
		if in, ok := s.p.f.bench.Gauges().Called(inspection.InstrumentName(s.m.Instrument)); ok {
			s.m.Instrument = in
		}
	}
	s.value.SetPlaceHolder("value in " + s.m.Unit + ", Enter for the next")
}

// next takes the value over; an empty field ends the reading.
func (s *readingSheet) next() {
	text := strings.TrimSpace(s.value.Text)
	if text == "" {
		s.toNext()
		return
	}
	s.refused = ""
	if !s.takes(text) {
		return
	}
	s.m.Values = append(slices.Clip(s.m.Values), s.typed(text))
	s.value.SetText("")
	s.refuse("")
	s.showValues()
	s.judge()
}

func (s *readingSheet) typed(text string) record.Value {
	return record.Value{
		// The plus comes from an instrument: no hand writes it.
		Text: strings.TrimPrefix(text, "+"), Position: strings.TrimSpace(s.where.Text), Angle: strings.Trim(strings.TrimSpace(s.angle.Text), "°"),
		Stops: s.stops.On && !s.stops.Hidden,
	}
}

// changed follows the value as it is typed. One that was refused and is typed over,
// as an instrument does that goes on, is still told of.
func (s *readingSheet) changed(text string) {
	s.typing.changed(text)
	if s.refused != "" && text != s.refused {
		if utf8.RuneCountInString(text) == 1 {
			s.notTaken = append(s.notTaken, s.refused)
		}
		s.refused = ""
	}
	s.refuse("")
	s.judge()
}

// refuse says below the value what is wrong with it; nothing takes it back.
func (s *readingSheet) refuse(says string) {
	var pieces []piece
	if says != "" {
		pieces = append(pieces, piece{Text: says + " ", Color: theme.ColorNameError, Small: true})
	}
	if len(s.notTaken) > 0 {
		pieces = append(pieces, piece{Text: "Not taken: " + strings.Join(s.notTaken, ", ") + ".", Color: theme.ColorNameError, Small: true})
	}
	if len(pieces) == 0 && s.fault.Hidden {
		return
	}
	s.fault.Set(pieces...)
	s.fault.Hidden = len(pieces) == 0
	s.page.Refresh()
}

// refuseValue says what is wrong with the value in the field, and has it typed over by
// what comes next: an instrument does not wait.
func (s *readingSheet) refuseValue(text, says string) {
	s.refused = text
	s.refuse(says)
	s.value.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// takes says at the field what is wrong with a value, and asks about one that looks
// like a slip. What is typed again stands.
func (s *readingSheet) takes(text string) bool {
	if says := lengthFault(text, s.unit()); says != "" {
		s.refuseValue(text, says)
		return false
	}
	e, _ := gauge.ParseEntry(text, s.unit())
	if len(s.m.Values) > 0 {
		if first, err := gauge.ParseEntry(s.m.Values[0].Text, s.unit()); err == nil && first.Unit != e.Unit {
			s.refuseValue(text, fmt.Sprintf("It is in %s, and the first value in %s: type all values of one reading in one unit.", e.Unit, first.Unit))
			return false
		}
	}
	probe := s.m
	probe.Values = []record.Value{s.typed(text)}
	var at *gauge.FieldError
	if err := inspection.CheckReading(probe); errors.As(err, &at) && strings.HasPrefix(at.Field, "angle") {
		s.refuseValue(text, "Angle: "+sentence(at.Err.Error()))
		s.p.f.focus(s.angle)
		return false
	}
	if s.doubted == text {
		return true
	}
	if slip := s.slip(e); slip != nil {
		s.doubted = text
		s.refuseValue(text, sentence(slip.Text)+" Enter again if it is right.")
		return false
	}
	if shows, err := gauge.ParseLength(s.m.Instrument.Resolution, gauge.Millimetre); err == nil && gauge.FinerThan(e, gauge.Instrument{Resolution: shows}) {
		s.doubted = text
		s.refuseValue(text, fmt.Sprintf("%s has more digits than this instrument shows, which reads to %s. Enter again if it is right.", text, shows.Text(s.unit(), shows)))
		return false
	}
	return true
}

// sound says at its field what can't be of a reading. Done again, the reading is kept
// as it is: what was seen is not thrown away.
func (s *readingSheet) sound(m record.Reading) bool {
	err := inspection.CheckReading(m)
	entry := fmt.Sprint(m)
	if err == nil || s.insisted == entry {
		return true
	}
	s.insisted = entry
	fields := map[string]string{
		"zero check before": "before", "zero check after": "after",
		"temperature of the part": "part", "temperature of the instrument": "instrument",
	}
	const again = " Done again keeps it as it is."
	var at *gauge.FieldError
	if errors.As(err, &at) && fields[at.Field] != "" {
		f := s.checks[fields[at.Field]]
		f.refuse(sentence(at.Err.Error()) + again)
		s.p.f.focus(f.field)
		return false
	}
	s.refuse(sentence(err.Error()) + again)
	s.p.f.focus(s.value)
	return false
}

// slip looks for a slip against the nominal, or against what was read before.
func (s *readingSheet) slip(e gauge.Entry) *gauge.Slip {
	probe := s.m
	probe.Values = []record.Value{{Text: "1"}}
	expected, near := gauge.Length(0), gauge.Length(0)
	if x := s.measure(probe); x != nil && x.HasLimit && x.Limit.Nominal != 0 {
		expected = x.Limit.Nominal
		near = max(4*max(x.Limit.Discard-expected, expected-x.Limit.Discard), expected/50)
	} else if len(s.m.Values) > 0 {
		if first, err := gauge.ParseLength(s.m.Values[0].Text, s.unit()); err == nil {
			expected, near = first, first/20
		}
	}
	return gauge.SlipIn(e, expected, near)
}

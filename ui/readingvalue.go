package ui

import (
	"fmt"
	"slices"
	"strings"

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
	if !s.takes(text) {
		return
	}
	s.m.Values = append(slices.Clip(s.m.Values), s.typed(text))
	s.value.SetText("")
	s.fault.SetText("")
	s.showValues()
	s.judge()
}

func (s *readingSheet) typed(text string) record.Value {
	return record.Value{
		Text: text, Position: strings.TrimSpace(s.where.Text), Angle: strings.Trim(strings.TrimSpace(s.angle.Text), "°"),
		Stops: s.stops.On && !s.stops.Hidden,
	}
}

// takes says at the field what is wrong with a value, and asks about one that looks
// like a slip. What is typed again stands.
func (s *readingSheet) takes(text string) bool {
	e, err := gauge.ParseEntry(text, s.unit())
	if err != nil {
		s.fault.SetText(sentence(err.Error()))
		return false
	}
	if e.Length <= 0 {
		s.fault.SetText("A length of a part is above zero.")
		return false
	}
	if slip := s.slip(e); slip != nil && s.doubted != text {
		s.doubted = text
		s.fault.SetText(sentence(slip.Text) + " Enter again if it is right.")
		return false
	}
	if shows, err := gauge.ParseLength(s.m.Instrument.Resolution, gauge.Millimetre); err == nil && s.doubted != text &&
		gauge.FinerThan(e, gauge.Instrument{Resolution: shows}) {
		s.doubted = text
		s.fault.SetText(sentence(fmt.Sprintf("%s has more digits than this instrument shows, which reads to %s. Enter again if it is right", text, shows.Text(s.unit(), shows))))
		return false
	}
	return true
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

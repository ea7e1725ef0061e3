package ui

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"fettlebook/assess/inspection"
	"fettlebook/assess/term"
)

// damageList lists the kinds of damage, those that occur on the surface first,
// the commonest of them at the head.
func (s *findingSheet) damageList() []term.Damage {
	var list []term.Damage
	if known := s.known(); known != nil {
		list = slices.Clone(known.Damages)
	}
	for _, d := range term.Damages {
		if !slices.Contains(list, d) {
			list = append(list, d)
		}
	}
	return list
}

// typedDamage cuts the number of a severity off what was typed, 0 for none:
// "rust p 2", or "rust p2", is rust pits that are felt.
func typedDamage(text string) (name string, severity int) {
	name = strings.ToLower(strings.TrimSpace(text))
	last := len(name) - 1
	if last < 1 || name[last] < '1' || name[last] > '9' || name[last-1] >= '0' && name[last-1] <= '9' {
		return name, 0
	}
	return strings.TrimSpace(name[:last]), int(name[last] - '0')
}

// filterDamages shows the kinds of damage that fit what was typed: those whose
// name begins so, then those with a word that does, or that are also called so, then
// those that hold it. A
// number behind it chooses the severity.
func (s *findingSheet) filterDamages() {
	typed, severity := typedDamage(s.filter.Text)
	var ranked [3][]rowItem
	for _, d := range s.damageList() {
		name := term.Plain(d)
		item := rowItem{ID: string(d), Text: capital(name)}
		var also []string
		if known, ok := s.p.f.bench.Specs().Damage(d); ok {
			item.Quiet, also = known.Plain, known.Also
		}
		switch {
		case strings.HasPrefix(name, typed):
			ranked[0] = append(ranked[0], item)
		case strings.Contains(name, " "+typed) || slices.ContainsFunc(also, func(word string) bool { return strings.HasPrefix(word, typed) }):
			ranked[1] = append(ranked[1], item)
		case strings.Contains(name, typed):
			ranked[2] = append(ranked[2], item)
		}
	}
	items := slices.Concat(ranked[:]...)
	s.damages.SetItems(items)
	s.lane.Refresh()
	if s.damages.Index() < 0 || typed != "" {
		s.damages.Selected = ""
		if len(items) > 0 {
			s.damages.Walk(0)
		}
		s.damages.Refresh()
	}
	s.damages.RevealIn(s.lane)
	s.fault.SetText("")
	if len(items) == 0 { // what was chosen before is not what was typed
		s.fault.SetText("No damage is called so. Delete a letter or two.")
		s.choseDamage("")
		return
	}
	if scale := s.f.Damage.Scale().Severities(); severity > 0 && severity <= len(scale) {
		s.severity.Mark(string(scale[severity-1]))
		s.choseSeverity(scale[severity-1])
	}
}

// filterKey has the arrows walk the list while the person types.
func (s *findingSheet) filterKey(name fyne.KeyName) bool {
	switch name {
	case fyne.KeyDown:
		s.damages.Walk(1)
	case fyne.KeyUp:
		if above := s.means.above(); above != nil && s.damages.Index() <= 0 {
			s.p.f.focus(above)
			return true
		}
		s.damages.Walk(-1)
	case fyne.KeyReturn, fyne.KeyEnter:
		if _, severity := typedDamage(s.filter.Text); severity > 0 && s.f.Severity != "" {
			s.submit()
		} else {
			s.toSeverity()
		}
	default:
		return false
	}
	return true
}

func (s *findingSheet) choseDamage(d term.Damage) {
	s.damages.RevealIn(s.lane)
	if s.f.Damage == d {
		return
	}
	s.f.Damage = d
	if !slices.Contains(d.Scale().Severities(), s.f.Severity) {
		s.f.Severity = ""
	}
	s.showDamage()
	s.judge()
}

// severityWords say each severity as a person would across the bench.
var severityWords = map[term.Severity]choice{
	term.Seen:      {ID: string(term.Seen), Label: "seen", Hint: "not felt"},
	term.Felt:      {ID: string(term.Felt), Label: "felt", Hint: "a fingernail catches"},
	term.Deep:      {ID: string(term.Deep), Label: "deep", Hint: "a finger feels the step"},
	term.NotFound:  {ID: string(term.NotFound), Label: "not found", Hint: "looked for, not there"},
	term.Suspected: {ID: string(term.Suspected), Label: "suspected", Hint: "must be tested"},
	term.Present:   {ID: string(term.Present), Label: "present", Hint: "no doubt"},
}

// showDamage shows the scale that fits the damage, and how to tell it from its
// look-alikes.
func (s *findingSheet) showDamage() {
	severities := s.f.Damage.Scale().Severities()
	options := make([]choice, len(severities))
	for i, v := range severities {
		options[i] = severityWords[v]
	}
	s.severity.SetOptions(options)
	s.severity.Mark(string(s.f.Severity))
	text := ""
	if known, ok := s.p.f.bench.Specs().Damage(s.f.Damage); ok {
		text = known.Tell
	}
	s.tell.Set(piece{Text: text, Color: colorQuiet, Small: true})
	s.tell.Hidden = text == ""
}

func (s *findingSheet) toSeverity() {
	if s.f.Damage != "" {
		s.fault.SetText("")
		s.p.f.focus(s.severity)
	}
}

func (s *findingSheet) choseSeverity(v term.Severity) {
	s.f.Severity = v
	s.fault.SetText("")
	if !s.methodChosen {
		s.f.Method = term.ByEye
		if v == term.Felt || v == term.Deep {
			s.f.Method = term.Touch
		}
		s.method.show(s.f.Method.Says())
	}
	s.judge()
}

func (s *findingSheet) entry() inspection.FindingEntry {
	return inspection.FindingEntry{Finding: s.f, Outline: s.outline}
}

// judge says what the verdict would be with the finding as it stands.
func (s *findingSheet) judge() {
	if s.f.Damage == "" || s.f.Severity == "" {
		s.verdict.Set(piece{Text: "The verdict stands here as you choose.", Color: colorQuiet, Small: true})
		return
	}
	f := s.f
	if f.Method == "" {
		f.Method = term.ByEye
	}
	a, err := s.p.n.WhatIfFound(s.id, f)
	if err != nil {
		s.verdict.Set()
		return
	}
	part, _ := a.Part(f.Part)
	if part == nil {
		return
	}
	surface, ok := part.Surface(f.Surface)
	if !ok {
		return
	}
	pieces := []piece{{Text: capital(surface.Name) + ": " + verdictSays(surface.Verdicts) + ". ", Bold: true}}
	held := s.p.n.Record().Findings
	for _, reason := range surface.Reasons {
		if _, older := held[reason.Of]; reason.Of != "" && (reason.Of == s.id || !older) {
			pieces = append(pieces, piece{Text: sentence(reason.Text) + " "})
			break
		}
	}
	pieces = append(pieces, piece{Text: part.Name + ": " + part.Grade + ".", Color: colorQuiet})
	s.verdict.Set(pieces...)
}

package ui

import (
	"fmt"
	"strings"

	"fettlebook/assess/gauge"
	"fettlebook/assess/inspection"
)

// showNumbers draws the wear bar and writes what stands behind the verdict, for
// who wants to see it.
func (s *readingSheet) showNumbers(x *inspection.Measurement) {
	s.bar.Clear()
	if x == nil {
		s.numbers.Set()
		return
	}
	if x.HasLimit {
		if bar, err := x.Limit.Bar(x.Measured); err == nil {
			s.bar.Set(bar, "nominal "+x.Limit.Nominal.Text(x.Unit, gauge.Micrometre), "limit "+x.Limit.Discard.Text(x.Unit, gauge.Micrometre))
		}
	}
	s.numbers.Set(piece{Text: strings.Join(numbersSay(x), "\n"), Small: true})
}

// numbersSay tells places, form, budget and decision of a reading.
func numbersSay(x *inspection.Measurement) []string {
	length := func(l gauge.Length) string { return l.Text(x.Unit, gauge.Micrometre) }
	var says []string
	for _, p := range x.Result.Places {
		where := strings.TrimSpace(p.Position)
		if p.Angle != 0 {
			where = strings.TrimSpace(fmt.Sprintf("%s %g°", where, p.Angle))
		}
		if where != "" {
			says = append(says, fmt.Sprintf("%s: %s (%s)", capital(where), length(p.Mean), countOf(p.Repeats, "value", "values")))
		}
	}
	if f := x.Result.Form; f.HasOutOfRound {
		says = append(says, "Out of round by "+f.OutOfRound.Text(x.Unit)+" at "+firstOf(f.At, "one place")+". "+gauge.OddLobes)
	}
	if f := x.Result.Form; f.HasTaper {
		says = append(says, "Taper "+f.Taper.Text(x.Unit)+", smaller at "+f.From+" than at "+f.To+".")
	}
	for _, c := range x.Measured.Budget {
		if c.Size() > 0 {
			says = append(says, fmt.Sprintf("%s: %s", capital(c.Name), gauge.UncertaintyText(gauge.Length(c.Size()), x.Unit)))
		}
	}
	half, k := x.Measured.Expanded(0.95)
	says = append(says, fmt.Sprintf("Altogether ± %s at 95 %% (k = %.2f).", gauge.UncertaintyText(half, x.Unit), k))
	if x.HasLimit {
		v := x.Judgement.Discard
		says = append(says, fmt.Sprintf("It is within the limit with a probability of %.1f %%. By %s.", v.Least*100, x.Rule.Name()))
		if v.Decision == gauge.CannotDecide && v.LargestU > 0 {
			says = append(says, "It would be decided up to ± "+gauge.LargestText(2*v.LargestU, x.Unit)+" altogether.")
		}
		if x.Judgement.Wear != nil {
			says = append(says, fmt.Sprintf("%.0f %% ± %.0f %% of the allowance is used.", x.Judgement.Wear.Used*100, 200*x.Judgement.Wear.Standard))
		}
	}
	for _, note := range x.Notes {
		says = append(says, sentence(note))
	}
	return says
}

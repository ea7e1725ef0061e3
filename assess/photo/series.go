package photo

import (
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Gap is a stretch of a camera's numbers of which there is no photo: From to To,
// both missing, between photos that are there.
type Gap struct {
	// Before and After are the names of the photos at its ends.
	Before, After string
	From, To      int
}

// Missing is how many photos that are.
func (g Gap) Missing() int { return g.To - g.From + 1 }

// numbered is a name that ends in the three to five digits of a camera's counter.
// Longer ones are dates and times.
var numbered = regexp.MustCompile(`^(.*?)(\d{3,5})$`)

// cameraNumber splits a file's name into what the camera calls its series and the
// number in it.
func cameraNumber(name string) (series string, number int, ok bool) {
	name = strings.ReplaceAll(name, `\`, "/")
	stem := strings.ToUpper(strings.TrimSuffix(path.Base(name), path.Ext(name)))
	m := numbered.FindStringSubmatch(stem)
	if m == nil || strings.TrimRight(m[1], "0123456789") != m[1] {
		return "", 0, false
	}
	n, err := strconv.Atoi(m[2])
	return m[1] + strconv.Itoa(len(m[2])), n, err == nil
}

// mostMissing is how many numbers may be missing for it to be a gap in one job.
// More is another job in between.
const mostMissing = 20

// Gaps returns where numbers are missing among the names of photos, in the order of
// series and numbers. Copies of one number, and numbers that begin anew, are no gap.
func Gaps(names []string) []Gap {
	type one struct {
		number int
		name   string
	}
	all := map[string][]one{}
	for _, name := range names {
		if series, n, ok := cameraNumber(name); ok {
			all[series] = append(all[series], one{n, name})
		}
	}
	var series []string
	for s := range all {
		series = append(series, s)
	}
	slices.Sort(series)
	var gaps []Gap
	for _, s := range series {
		photos := all[s]
		slices.SortStableFunc(photos, func(a, b one) int { return a.number - b.number })
		for i := 1; i < len(photos); i++ {
			g := Gap{photos[i-1].name, photos[i].name, photos[i-1].number + 1, photos[i].number - 1}
			if n := g.Missing(); n > 0 && n <= mostMissing {
				gaps = append(gaps, g)
			}
		}
	}
	return gaps
}

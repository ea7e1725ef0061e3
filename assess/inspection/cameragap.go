package inspection

import (
	"cmp"
	"fmt"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fettlebook/assess/record"
)

// CameraGap is a leap in the numbers that a camera gives its photos: one in between
// was deleted, or left in the camera.
type CameraGap struct {
	// After and Before are the names of the photos on both sides, without endings.
	After, Before string
	// Missing is how many are not there between them.
	Missing int
}

// Says tells of the gap in a sentence.
func (g CameraGap) Says() string {
	what := "a photo is"
	if g.Missing > 1 {
		what = fmt.Sprintf("%d photos are", g.Missing)
	}
	return fmt.Sprintf("Between %s and %s %s not here.", g.After, g.Before, what)
}

// mostMissing is the widest gap that is told: a wider one is another day.
const mostMissing = 12

// counted is a name that ends in a camera's count, such as IMG_0012 or DSC00123.
// Six and eight digits or more are a time or a date.
var counted = regexp.MustCompile(`^(.*\D)(\d{3,5}|\d{7})$`)

type countedName struct {
	number int
	name   string
}

// cameraGaps finds the leaps in the numbers of photos by their names. Names of
// different beginnings are counted apart: they come from different cameras.
func cameraGaps(names []string) []CameraGap {
	series := map[string][]countedName{}
	for _, name := range names {
		stem := strings.TrimSuffix(name, filepath.Ext(name))
		m := counted.FindStringSubmatch(stem)
		if m == nil {
			continue
		}
		number, err := strconv.Atoi(m[2])
		if err != nil {
			continue
		}
		key := fmt.Sprintf("%s %d", strings.ToLower(m[1]), len(m[2]))
		series[key] = append(series[key], countedName{number, stem})
	}
	var gaps []CameraGap
	for _, key := range slices.Sorted(maps.Keys(series)) {
		in := series[key]
		slices.SortFunc(in, func(a, b countedName) int {
			return cmp.Or(cmp.Compare(a.number, b.number), strings.Compare(a.name, b.name))
		})
		for i := 1; i < len(in); i++ {
			if missing := in[i].number - in[i-1].number - 1; missing > 0 && missing <= mostMissing {
				gaps = append(gaps, CameraGap{After: in[i-1].name, Before: in[i].name, Missing: missing})
			}
		}
	}
	return gaps
}

// newGaps are the gaps in a record's photos that were not there before. Names are
// those of files that the record may hold under other ones.
func newGaps(before, after *record.Record, names []string) []CameraGap {
	namesOf := func(r *record.Record) []string {
		var all []string
		for _, p := range r.Photos {
			all = append(all, p.Name)
		}
		return all
	}
	all := append(namesOf(after), names...)
	slices.Sort(all)
	known := cameraGaps(namesOf(before))
	return slices.DeleteFunc(cameraGaps(slices.Compact(all)), func(g CameraGap) bool { return slices.Contains(known, g) })
}

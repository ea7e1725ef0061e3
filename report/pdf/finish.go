package pdf

import (
	"bytes"
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// finish writes the rest of the file behind the pictures: gofpdf's objects with
// their numbers moved up by the number of pictures, then what gofpdf leaves out.
// Its info and catalogue, always its last two objects, are replaced:
//
//   - the catalogue gets the language, the XMP metadata, an sRGB output intent
//     and the wish to show the title in the window;
//   - the outline is written here, as gofpdf can't put a rune above U+FFFF into a
//     title and links every line to the size of the last page;
//   - the trailer gets an /ID made of all that was written before it, so that
//     equal files have equal ones and others do not.
func (d *Document) finish(ctx context.Context) error {
	raw, err := d.rawObjects()
	if err != nil {
		return err
	}
	if err := d.proceed(ctx); err != nil {
		return err
	}
	shift := len(d.out.offsets)
	r := &rewriter{shift: shift, names: map[string]string{}, faces: map[string]*face{}}
	for _, f := range d.faces.inUse {
		r.names["utf8"+f.family] = f.subsetName()
		r.faces["utf8"+f.family] = f
	}
	var pictures strings.Builder
	for _, p := range d.pictures {
		fmt.Fprintf(&pictures, "/P%d %d 0 R\n", p.number, p.number)
	}
	r.pictures = pictures.String()
	for n, object := range raw[:len(raw)-2] {
		number := d.out.object()
		if number != shift+n+1 {
			return fmt.Errorf("object %d of the PDF came out as %d", shift+n+1, number)
		}
		body, err := r.object(object)
		if err != nil {
			return fmt.Errorf("object %d of the PDF: %w", n+1, err)
		}
		d.out.Write(body)
	}
	return d.writeTail(shift)
}

// rawObjects has gofpdf write its file and cuts that into objects, in the order
// of their numbers, each from its number to its endobj. gofpdf panics on what it
// did not foresee; that must not end the program.
func (d *Document) rawObjects() (objects [][]byte, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("gofpdf gave up on the document: %v", p)
		}
	}()
	var b bytes.Buffer
	if err := d.f.Output(&b); err != nil {
		return nil, fmt.Errorf("lay out the PDF: %w", err)
	}
	file := b.Bytes()
	at := bytes.LastIndex(file, []byte("\nstartxref\n"))
	if at < 0 {
		return nil, errors.New("gofpdf wrote no cross-reference table")
	}
	position, _, _ := bytes.Cut(file[at+len("\nstartxref\n"):], []byte("\n"))
	start, err := strconv.Atoi(string(position))
	if err != nil || start > at {
		return nil, errors.New("gofpdf's cross-reference table is nowhere")
	}
	lines := strings.Split(string(file[start:at]), "\n")
	var offsets []int
	for _, line := range lines {
		if offset, isEntry := strings.CutSuffix(strings.TrimRight(line, " "), " 00000 n"); isEntry {
			n, err := strconv.Atoi(offset)
			if err != nil || n > start {
				return nil, errors.New("gofpdf's cross-reference table is broken")
			}
			offsets = append(offsets, n)
		}
	}
	if len(offsets) < 4 {
		return nil, errors.New("gofpdf wrote no pages")
	}
	ends := append(slices.Sorted(slices.Values(offsets)), start)
	for _, offset := range offsets {
		next, _ := slices.BinarySearch(ends, offset+1)
		objects = append(objects, file[offset:ends[next]])
	}
	return objects, nil
}

// writeTail writes outline, metadata, catalogue, cross-reference table and
// trailer. Object shift+1 is the root of gofpdf's page tree.
func (d *Document) writeTail(shift int) error {
	o := d.options
	outline := d.writeOutline(shift)
	metadata := d.out.stream("/Type /Metadata /Subtype /XML", xmp(o))
	profile := d.out.stream("/N 3 /Alternate /DeviceRGB /Filter /FlateDecode", compressed(sRGBProfile()))
	date := o.Created.Format("D:20060102150405") + strings.Replace(o.Created.Format("-07:00"), ":", "'", 1) + "'"
	info := d.out.dictionary("/Title %s /Author %s /Subject %s /Creator %s /Producer %s /CreationDate (%s) /ModDate (%s)",
		textString(o.Title), textString(o.Author), textString(o.Subject), textString(o.Creator), textString(producer), date, date)
	catalog := d.out.dictionary("/Type /Catalog /Pages %d 0 R%s /Lang %s /Metadata %d 0 R /ViewerPreferences << /DisplayDocTitle true >> "+
		"/OutputIntents [<< /Type /OutputIntent /S /GTS_PDFA1 /OutputConditionIdentifier (sRGB) /Info (sRGB IEC61966-2.1) /DestOutputProfile %d 0 R >>]",
		shift+1, outline, textString(o.Lang), metadata, profile)
	table := d.out.written
	d.out.printf("xref\n0 %d\n0000000000 65535 f \n", len(d.out.offsets)+1)
	for _, offset := range d.out.offsets {
		if offset > 9_999_999_999 {
			return errors.New("the PDF is larger than 10 GB; print fewer photos")
		}
		d.out.printf("%010d 00000 n \n", offset)
	}
	id := hex.EncodeToString(d.out.sum.Sum(nil)[:16])
	d.out.printf("trailer\n<< /Size %d /Root %d 0 R /Info %d 0 R /ID [<%s> <%s>] >>\nstartxref\n%d\n%%%%EOF\n",
		len(d.out.offsets)+1, catalog, info, id, id, table)
	d.out.flush()
	return nil // what went wrong in writing is kept by the output
}

// writeOutline writes the bookmarks and gives the catalogue's entry for them.
func (d *Document) writeOutline(shift int) string {
	if len(d.bookmarks) == 0 {
		return ""
	}
	root := len(d.out.offsets) + 1 // the lines follow it, in order
	nodes := make([]outlineNode, len(d.bookmarks)+1)
	var open []int // the chain of lines that the next one may belong to
	for i, b := range d.bookmarks {
		parent := 0
		if b.level > 0 {
			parent = open[b.level-1]
		}
		open = append(open[:b.level], i+1)
		nodes[i+1].parent = parent
		if last := nodes[parent].last; last != 0 {
			nodes[i+1].previous, nodes[last].next = last, i+1
		} else {
			nodes[parent].first = i + 1
		}
		nodes[parent].last = i + 1
		nodes[parent].children++
	}
	d.out.dictionary("/Type /Outlines%s", nodes[0].links(root))
	for i, b := range d.bookmarks {
		// gofpdf's page n is its object 1 + 2 n.
		d.out.dictionary("/Title %s /Parent %d 0 R%s /Dest [%d 0 R /XYZ null %.2f null]",
			textString(b.title), root+nodes[i+1].parent, nodes[i+1].links(root),
			shift+1+2*b.page, (d.options.Paper.Height-b.y)*pointPerMM)
	}
	return fmt.Sprintf(" /Outlines %d 0 R /PageMode /UseOutlines", root)
}

// outlineNode names its neighbours by their place in the outline; 0 is the root
// and, as neighbour, none.
type outlineNode struct{ parent, previous, next, first, last, children int }

func (n outlineNode) links(root int) string {
	var b strings.Builder
	for _, link := range []struct {
		name string
		to   int
	}{{"Prev", n.previous}, {"Next", n.next}, {"First", n.first}, {"Last", n.last}} {
		if link.to != 0 {
			fmt.Fprintf(&b, " /%s %d 0 R", link.name, root+link.to)
		}
	}
	if n.children > 0 {
		count := n.children
		if n.parent != 0 || n.previous != 0 || n.next != 0 {
			count = -count // only the outermost level is shown unfolded
		}
		fmt.Fprintf(&b, " /Count %d", count)
	}
	return b.String()
}

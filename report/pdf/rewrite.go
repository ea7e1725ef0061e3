package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
)

// rewriter changes single objects of gofpdf's file on their way into ours:
// references are moved by shift, the names of typefaces get a subset tag, the
// pictures are entered into the resources, links are made printable, and the
// map from codes to text is made for the runes that are there. It reads only
// what gofpdf writes: direct lengths, no comments.
type rewriter struct {
	shift    int
	names    map[string]string // gofpdf's name of a typeface to ours
	faces    map[string]*face  // by gofpdf's name
	pictures string            // entries of the resource dictionary

	current *face // whose objects are passing; gofpdf writes them in a row
}

var errBroken = errors.New("gofpdf wrote something unforeseen")

// object gives an object as it stands in our file, without the line that holds
// its number.
func (r *rewriter) object(in []byte) ([]byte, error) {
	_, in, ok := bytes.Cut(in, []byte(" 0 obj\n"))
	if !ok {
		return nil, errBroken
	}
	s := &scanner{in: in}
	out := bytes.NewBuffer(make([]byte, 0, len(in)+64))
	length := -1
	for {
		token, kind := s.next()
		switch {
		case kind == tokenEnd:
			return nil, errBroken
		case kind == tokenName:
			switch string(token) {
			case "/Length":
				length = s.peekInt()
			case "/XObject":
				if !bytes.HasPrefix(s.in[s.at-len(token):], []byte(xObjects)) {
					return nil, errBroken
				}
				s.at += len(xObjects) - len(token)
				token = []byte(xObjects)
			}
			out.WriteString(r.name(string(token)))
		case kind == tokenNumber:
			if rest, ok := s.reference(); ok {
				n, err := strconv.Atoi(string(token))
				if err != nil {
					return nil, errBroken
				}
				out.WriteString(strconv.Itoa(n + r.shift))
				out.Write(rest)
			} else {
				out.Write(token)
			}
		case kind == tokenWord && string(token) == "endobj":
			out.WriteString("endobj\n")
			return out.Bytes(), nil
		case kind == tokenWord && string(token) == "stream":
			data, ok := s.stream(length)
			if !ok {
				return nil, errBroken
			}
			if bytes.HasPrefix(data, []byte("/CIDInit /ProcSet")) && r.current != nil {
				return r.toUnicode(), nil
			}
			out.WriteString("stream\n")
			out.Write(data)
			out.WriteString("\nendstream")
		default:
			out.Write(token)
		}
	}
}

// name gives what is written in place of a name of gofpdf's.
func (r *rewriter) name(name string) string {
	if ours, ok := r.names[name[1:]]; ok {
		r.current = r.faces[name[1:]]
		return "/" + ours
	}
	switch name {
	case xObjects:
		return name + r.pictures
	case "/Link":
		return "/Link /F 4" // to be printed, as far as there is something to print
	}
	return name
}

// xObjects begins the pictures in the resource dictionary. In gofpdf's file they
// stand only there, as it has no pictures of its own.
const xObjects = "/XObject <<\n"

// toUnicode is the object that maps the codes in the pages to text. gofpdf's
// own maps everything to itself in one range, which is longer than the PDF
// specification allows, and leaves the joined shapes of Arabic letters in what
// is copied and searched.
func (r *rewriter) toUnicode() []byte {
	var b bytes.Buffer
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n" +
		"/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n" +
		"1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	runes := r.current.usedRunes()
	for len(runes) > 0 {
		n := min(len(runes), 100) // no block may hold more
		fmt.Fprintf(&b, "%d beginbfchar\n", n)
		for _, c := range runes[:n] {
			fmt.Fprintf(&b, "<%04X> <%s>\n", c, plainText(c))
		}
		b.WriteString("endbfchar\n")
		runes = runes[n:]
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n")
	data := compressed(b.Bytes())
	var out bytes.Buffer
	fmt.Fprintf(&out, "<< /Filter /FlateDecode /Length %d >>\nstream\n", len(data))
	out.Write(data)
	out.WriteString("\nendstream\nendobj\n")
	return out.Bytes()
}

const (
	tokenEnd = iota
	tokenName
	tokenNumber
	tokenWord
	tokenOther // strings, brackets, white space: copied
)

// scanner reads the tokens of one object.
type scanner struct {
	in []byte
	at int
}

func isSpace(c byte) bool {
	return c == ' ' || c == '\n' || c == '\r' || c == '\t' || c == 0 || c == '\f'
}

func isRegular(c byte) bool {
	return !isSpace(c) && bytes.IndexByte([]byte("()<>[]{}/%"), c) < 0
}

func (s *scanner) next() (token []byte, kind int) {
	if s.at >= len(s.in) {
		return nil, tokenEnd
	}
	start := s.at
	c := s.in[s.at]
	s.at++
	switch {
	case c == '(':
		s.skipString()
		return s.in[start:s.at], tokenOther
	case c == '/':
		s.skip(isRegular)
		return s.in[start:s.at], tokenName
	case c >= '0' && c <= '9' || c == '-' || c == '+' || c == '.':
		s.skip(isRegular)
		return s.in[start:s.at], tokenNumber
	case isRegular(c):
		s.skip(isRegular)
		return s.in[start:s.at], tokenWord
	case c == '<' && s.at < len(s.in) && s.in[s.at] != '<':
		s.skip(func(c byte) bool { return c != '>' }) // a string in hexadecimal
	case c == '<':
		s.at++
	}
	return s.in[start:s.at], tokenOther
}

func (s *scanner) skip(while func(byte) bool) {
	for s.at < len(s.in) && while(s.in[s.at]) {
		s.at++
	}
}

// skipString goes behind a string in parentheses, the first of which is passed.
func (s *scanner) skipString() {
	for depth := 1; s.at < len(s.in) && depth > 0; s.at++ {
		switch s.in[s.at] {
		case '\\':
			s.at++
		case '(':
			depth++
		case ')':
			depth--
		}
	}
	s.at = min(s.at, len(s.in))
}

// reference reads the rest of a reference whose first number has been read.
func (s *scanner) reference() (rest []byte, ok bool) {
	const tail = " 0 R"
	end := s.at + len(tail)
	if end > len(s.in) || string(s.in[s.at:end]) != tail || end < len(s.in) && isRegular(s.in[end]) {
		return nil, false
	}
	rest, s.at = s.in[s.at:end], end
	return rest, true
}

// peekInt is the number that comes next, or -1.
func (s *scanner) peekInt() int {
	ahead := scanner{s.in, s.at}
	ahead.skip(isSpace)
	token, kind := ahead.next()
	n, err := strconv.Atoi(string(token))
	if kind != tokenNumber || err != nil {
		return -1
	}
	return n
}

// stream reads the data of a stream behind its first word, and its last word.
func (s *scanner) stream(length int) ([]byte, bool) {
	start := s.at + 1
	end := start + length
	if length < 0 || end > len(s.in) || s.in[s.at] != '\n' || !bytes.HasPrefix(s.in[end:], []byte("\nendstream")) {
		return nil, false
	}
	s.at = end + len("\nendstream")
	return s.in[start:end], true
}

package pdf

import (
	"bytes"
	"encoding/hex"
	"encoding/xml"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf16"

	"golang.org/x/text/unicode/norm"
)

const producer = "gofpdf"

// textString is a PDF string of any text, in UTF-16 as hexadecimal: nothing has
// to be escaped, and runes above U+FFFF are allowed. Control characters become
// spaces.
func textString(s string) string {
	return "<FEFF" + utf16Hex(plainLine(s)) + ">"
}

func utf16Hex(s string) string {
	var b []byte
	for _, unit := range utf16.Encode([]rune(s)) {
		b = append(b, byte(unit>>8), byte(unit))
	}
	return strings.ToUpper(hex.EncodeToString(b))
}

// plainLine makes valid text without control characters.
func plainLine(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == 0xFFFE || r == 0xFFFF {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
}

// plainText is the UTF-16 of what a drawn rune stands for: joined shapes of
// Arabic letters stand for the letters. A shape for two letters stands for
// itself, since some readers turn round what one code stands for when they put
// right-to-left text into reading order.
func plainText(r rune) string {
	if r >= 0xFB50 && r <= 0xFDFF || r >= 0xFE70 && r <= 0xFEFC {
		if letters := []rune(norm.NFKC.String(string(r))); len(letters) == 1 {
			r = letters[0]
		}
	}
	return utf16Hex(string(r))
}

// xmp is the metadata in the form that archives read. It says the same as the
// info dictionary.
func xmp(o Options) []byte {
	escape := func(s string) string {
		var b bytes.Buffer
		xml.EscapeText(&b, []byte(plainLine(s))) // a buffer takes everything
		return b.String()
	}
	date := o.Created.Format("2006-01-02T15:04:05-07:00")
	return fmt.Appendf(nil, `<?xpacket begin="%s" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/">
<dc:format>application/pdf</dc:format>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">%s</rdf:li></rdf:Alt></dc:title>
<dc:creator><rdf:Seq><rdf:li>%s</rdf:li></rdf:Seq></dc:creator>
<dc:description><rdf:Alt><rdf:li xml:lang="x-default">%s</rdf:li></rdf:Alt></dc:description>
<dc:language><rdf:Bag><rdf:li>%s</rdf:li></rdf:Bag></dc:language>
<xmp:CreatorTool>%s</xmp:CreatorTool>
<xmp:CreateDate>%s</xmp:CreateDate>
<xmp:ModifyDate>%s</xmp:ModifyDate>
<pdf:Producer>%s</pdf:Producer>
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>`, "\uFEFF", escape(o.Title), escape(o.Author), escape(o.Subject), escape(o.Lang),
		escape(o.Creator), date, date, producer)
}

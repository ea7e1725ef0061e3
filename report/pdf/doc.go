// Package pdf writes the pages of a report as a PDF file: text, pictures,
// drawing, bookmarks, links. It is the only room that knows gofpdf, and it
// knows nothing of gearboxes: what stands where is the caller's business.
//
// All lengths are millimetres from the top left corner of the page, x to the
// right and y downwards; sizes of type are points.
//
// # How a document is made
//
// New, then NewPage for every page in order, drawing on the pages that it
// returns, then Close. Drawing never returns an error: the first one is kept,
// turns what follows into nothing and is returned by NewPage, Picture and
// Close, so that layouts read as layouts.
//
// # What gofpdf does and what it does not
//
// gofpdf lays down the content of the pages, subsets and embeds the typefaces
// and writes page, font and resource objects. Four things it can't do, and so
// this package does them around it:
//
//   - Pictures. gofpdf keeps every picture until the end and then copies all of
//     them into one buffer, 425 MB for 200 pictures. Here a picture goes to the
//     output as a finished object the moment it is opened, and its bytes are let
//     go; gofpdf never sees it. Only its object number is kept.
//   - Text. gofpdf fails the whole document, or panics, on a rune above U+FFFF
//     and draws nothing for what a face lacks. Text is made safe first: see
//     Style.
//   - "Page n of m". m is known at the end. gofpdf's placeholders are replaced in
//     the page content, after the line has been measured with the placeholder and
//     after the subset has been decided. Here pages stay open until Close, which
//     calls Options.Decorate for each with both numbers.
//   - The finish. Close takes gofpdf's objects apart, moves their numbers behind
//     the pictures', and writes its own catalogue, dates, outline, XMP metadata,
//     output intent, cross-reference table and /ID; see finish.go.
//
// The same calls with the same bytes give the same file: no clock, no random
// number, no order of a map goes in.
//
// # Limits
//
// There is no kerning and no shaping by the tables of the typeface: Latin,
// Greek, Cyrillic, Hebrew and CJK read right; Arabic letters join by Unicode's
// presentation forms; scripts that need reordering within a syllable
// (Devanagari, Thai with stacked marks) do not come out well and mostly have no
// face at all. Runes above U+FFFF are named, not drawn. The file is not tagged
// for screen readers and makes no claim to be PDF/A.
package pdf

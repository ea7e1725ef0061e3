package record

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strconv"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"fettlebook/assess/term"
)

// Hash is a SHA-256 of stored bytes in lower-case hex; empty for nothing yet.
type Hash string

// HashOf returns the hash of bytes.
func HashOf(b []byte) Hash {
	sum := sha256.Sum256(b)
	return Hash(hex.EncodeToString(sum[:]))
}

// A SyntaxError says where a record's JSON is refused, as a JSON pointer
// (RFC 6901), and why.
type SyntaxError struct {
	Pointer string
	Err     error
}

func (e *SyntaxError) Error() string {
	at := e.Pointer
	if at == "" {
		at = "/"
	}
	return fmt.Sprintf("at %s: %v", at, e.Err)
}

// Unwrap returns the reason.
func (e *SyntaxError) Unwrap() error { return e.Err }

// Read reads a record strictly: names that are unknown, doubled or wrongly
// cased, nulls, words that are in no vocabulary, numbers out of range and
// references to nothing are refused with the place. The error is a
// [*SyntaxError] or, for what is well-formed and wrong, [Problems].
func Read(b []byte) (*Record, error) {
	var r Record
	if err := readStrictly(b, &r, recordDepth); err != nil {
		if problems := newer(b); problems != nil {
			return nil, problems
		}
		return nil, err
	}
	if problems := r.Check(); len(problems) > 0 {
		return nil, problems
	}
	return &r, nil
}

// Marshal returns the record's JSON in the canonical form of RFC 8785.
func (r *Record) Marshal() ([]byte, error) { return canonical(r) }

func canonical(v any) ([]byte, error) {
	b, err := json.Marshal(v, json.Deterministic(true))
	if err != nil {
		return nil, fmt.Errorf("write as JSON: %w", err)
	}
	text := jsontext.Value(b)
	if err := text.Canonicalize(); err != nil {
		return nil, fmt.Errorf("bring JSON into its canonical form: %w", err)
	}
	return text, nil
}

// strictly refuses what would otherwise be taken for a zero value: an override
// without its verdict would be one of "undecided".
var strictly = json.JoinOptions(
	json.RejectUnknownMembers(true),
	json.WithUnmarshalers(json.JoinUnmarshalers(
		json.UnmarshalFromFunc(func(d *jsontext.Decoder, o *Override) error {
			type plain Override
			in := struct {
				plain
				Verdict *term.Verdict `json:"verdict"`
			}{}
			if err := json.UnmarshalDecode(d, &in); err != nil {
				return err
			}
			if in.Verdict == nil {
				return errors.New("an override needs its verdict")
			}
			*o = Override(in.plain)
			o.Verdict = *in.Verdict
			return nil
		}),
		json.UnmarshalFromFunc(func(d *jsontext.Decoder, p *PartOf) error {
			type plain PartOf
			err := json.UnmarshalDecode(d, (*plain)(p))
			if err == nil && *p == (PartOf{}) {
				return errors.New("a record and a part are named here, or the name is left out")
			}
			return err
		}),
		json.UnmarshalFromFunc(func(d *jsontext.Decoder, s *Stamp) error {
			type plain Stamp
			err := json.UnmarshalDecode(d, (*plain)(s))
			if err == nil && *s == (Stamp{}) {
				return errors.New("a moment and an offset stand here, or the name is left out")
			}
			return err
		}),
	)),
)

// How deep null is refused: everywhere in a record, and in an entry down to its
// patches, which may hold one.
const (
	recordDepth = 100
	entryDepth  = 2
)

func readStrictly(b []byte, into any, depth int) error {
	if err := noNull(b, depth); err != nil {
		return err
	}
	err := json.Unmarshal(b, into, strictly)
	var semantic *json.SemanticError
	var syntactic *jsontext.SyntacticError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &semantic):
		return &SyntaxError{Pointer: string(semantic.JSONPointer), Err: reason(semantic)}
	case errors.As(err, &syntactic):
		return &SyntaxError{Pointer: string(syntactic.JSONPointer), Err: syntactic.Err}
	}
	return &SyntaxError{Err: err}
}

// noNull refuses null, down to a depth: no value of a record is null, and a
// reader would take one for the zero value.
func noNull(b []byte, depth int) error {
	if !bytes.Contains(b, []byte("null")) {
		return nil
	}
	d := jsontext.NewDecoder(bytes.NewReader(b))
	for {
		var err error
		switch kind := d.PeekKind(); {
		case (kind == '{' || kind == '[') && d.StackDepth() >= depth:
			err = d.SkipValue()
		default:
			_, err = d.ReadToken()
			if kind == 'n' && err == nil {
				return &SyntaxError{Pointer: string(d.StackPointer()), Err: errors.New("null does not belong here; leave the name out")}
			}
		}
		if err != nil {
			return nil // the end, or what the reader itself finds and tells better
		}
	}
}

// newer says of a record that can't be read that it is of another format, if
// that is why.
func newer(b []byte) Problems {
	var r struct {
		Format int `json:"format"`
	}
	if json.Unmarshal(b, &r) == nil && r.Format > Format {
		return Problems{{Pointer: "/format", Text: fmt.Sprintf("is %d; this program reads format %d: a newer one is needed", r.Format, Format)}}
	}
	return nil
}

// reason strips the library's words about Go types from an error, which mean
// nothing to the person whose file is refused.
func reason(e *json.SemanticError) error {
	switch {
	case errors.Is(e.Err, json.ErrUnknownName):
		return errors.New("this name is not known here; names are case-sensitive")
	case errors.Is(e.Err, strconv.ErrSyntax):
		return errors.New("a whole number stands here, without a point or an exponent")
	case errors.Is(e.Err, strconv.ErrRange):
		return errors.New("the number is too large")
	case e.Err != nil:
		return e.Err
	}
	return fmt.Errorf("a JSON %v does not belong here", e.JSONKind)
}

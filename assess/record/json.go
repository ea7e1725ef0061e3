package record

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
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
// cased, words that are in no vocabulary, numbers out of range and references
// to nothing are refused with the place. The error is a [*SyntaxError] or, for
// what is well-formed and wrong, [Problems].
func Read(b []byte) (*Record, error) {
	var r Record
	if err := readStrictly(b, &r); err != nil {
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

func readStrictly(b []byte, into any) error {
	err := json.Unmarshal(b, into, json.RejectUnknownMembers(true))
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

// reason strips the library's words about Go types from an error, which mean
// nothing to the person whose file is refused.
func reason(e *json.SemanticError) error {
	switch {
	case errors.Is(e.Err, json.ErrUnknownName):
		return errors.New("this name is not known here; names are case-sensitive")
	case e.Err != nil:
		return e.Err
	}
	return fmt.Errorf("a JSON %v does not belong here", e.JSONKind)
}

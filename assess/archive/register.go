package archive

import (
	"context"
	"database/sql"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"strings"
	"time"
	"unicode"

	"github.com/go-json-experiment/json"
)

// A row's place in the register is the moment of its last change, in
// milliseconds since 1970, and a count of those that changed in the same
// millisecond below it. So the order of places is newest first read backwards,
// also for records that were changed long ago elsewhere and come in today.
const (
	sameMoment = 20 // bits for the count
	// momentLimit keeps places within 63 bits: about 278 years either way.
	momentLimit = int64(1) << (62 - sameMoment)
)

const defaultPage = 100

// keepRow puts a row into the register, at a new place.
func keepRow(ctx context.Context, tx *sql.Tx, row Row) error {
	content, err := json.Marshal(row)
	if err != nil {
		return fmt.Errorf("the register row: %w", err)
	}
	var old int64
	err = tx.QueryRowContext(ctx, `DELETE FROM register WHERE record = ? RETURNING place`, row.Record).Scan(&old)
	switch {
	case err == nil:
		_, err = tx.ExecContext(ctx, `DELETE FROM words WHERE rowid = ?`, old)
	case errors.Is(err, sql.ErrNoRows):
		err = nil
	}
	if err != nil {
		return err
	}
	place, err := placeFor(ctx, tx, row.Changed)
	if err != nil {
		return err
	}
	if _, err = tx.ExecContext(ctx, `INSERT INTO register (place, record, row) VALUES (?, ?, ?)`, place, row.Record, content); err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO words (rowid, text) VALUES (?, ?)`, place, searched(row))
	return err
}

// placeFor finds the place for a row that changed at a moment.
func placeFor(ctx context.Context, tx *sql.Tx, changed string) (int64, error) {
	at, err := time.Parse("2006-01-02T15:04:05.999Z", changed)
	if err != nil {
		return 0, fmt.Errorf("the register row's moment %q is not one in UTC such as 2026-05-12T08:10:00.000Z", changed)
	}
	moment := at.UnixMilli()
	if moment >= momentLimit || moment < -momentLimit {
		return 0, fmt.Errorf("the register row's moment %q is too far away; check this machine's clock", changed)
	}
	first := moment << sameMoment
	end := first + 1<<sameMoment
	var last sql.NullInt64
	err = tx.QueryRowContext(ctx, `SELECT max(place) FROM register WHERE place >= ? AND place < ?`, first, end).Scan(&last)
	switch {
	case err != nil:
		return 0, err
	case !last.Valid:
		return first, nil
	case last.Int64+1 == end:
		return 0, fmt.Errorf("too many records changed at %s", changed)
	}
	return last.Int64 + 1, nil
}

// searched is the text by which a row is found.
func searched(row Row) string {
	return apart(strings.Join([]string{row.Unit, row.Serial, row.Owner, row.Outcome, row.Words}, "\n"))
}

// apart puts spaces around characters of scripts that write no spaces, so that
// each can be the beginning of a word.
func apart(text string) string {
	if !strings.ContainsFunc(text, spaceless) {
		return text
	}
	var b strings.Builder
	for _, r := range text {
		if spaceless(r) {
			b.WriteByte(' ')
			b.WriteRune(r)
			b.WriteByte(' ')
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

func spaceless(r rune) bool {
	return r > 0x0e00 && unicode.In(r, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Thai, unicode.Lao, unicode.Khmer, unicode.Myanmar)
}

// matching writes the words of a query in the language of the index: each is a
// phrase whose last word may go on. Words without a letter or digit are left out.
func matching(words []string) string {
	var phrases []string
	for _, w := range words {
		if strings.ContainsFunc(w, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsNumber(r) }) {
			phrases = append(phrases, `"`+strings.ReplaceAll(strings.TrimSpace(apart(w)), `"`, " ")+`"*`)
		}
	}
	return strings.Join(phrases, " ")
}

// Find returns a page of the register, newest first.
func (f *folder) Find(ctx context.Context, q Query) (Page, error) {
	page, err := find(ctx, f.read, q)
	return page, f.explain("search the register", err)
}

func find(ctx context.Context, db asker, q Query) (Page, error) {
	limit := q.Limit
	if limit == 0 {
		limit = defaultPage
	}
	if limit < 0 || limit >= math.MaxInt32 {
		return Page{}, fmt.Errorf("a page of %d rows can't be made", q.Limit)
	}
	before, err := parseCursor(q.After)
	if err != nil {
		return Page{}, err
	}
	query, args := `SELECT place, row FROM register WHERE place < ? ORDER BY place DESC LIMIT ?`, []any{before, limit + 1}
	if m := matching(q.Words); m != "" {
		query = `SELECT words.rowid, (SELECT row FROM register WHERE place = words.rowid)
			FROM words WHERE words MATCH ? AND rowid < ? ORDER BY rowid DESC LIMIT ?`
		args = []any{m, before, limit + 1}
	}
	rows, err := db.QueryContext(ctx, query, args...)
	if err != nil {
		return Page{}, err
	}
	defer rows.Close()
	var page Page
	var place int64
	for rows.Next() {
		if len(page.Rows) == limit { // there is one more than the page holds
			page.Next = cursor(place)
			break
		}
		var content []byte
		var row Row
		if err := rows.Scan(&place, &content); err != nil {
			return Page{}, err
		}
		if err := json.Unmarshal(content, &row); err != nil {
			return Page{}, fmt.Errorf("%w: a register row: %w", ErrDamaged, err)
		}
		page.Rows = append(page.Rows, row)
	}
	return page, rows.Err()
}

// A cursor is the place of the last row that was given.
func cursor(place int64) string {
	return base64.RawURLEncoding.EncodeToString(binary.BigEndian.AppendUint64(nil, uint64(place)))
}

func parseCursor(text string) (int64, error) {
	if text == "" {
		return math.MaxInt64, nil
	}
	b, err := base64.RawURLEncoding.DecodeString(text)
	if err != nil || len(b) != 8 {
		return 0, fmt.Errorf("%q is not the cursor of a page", text)
	}
	return int64(binary.BigEndian.Uint64(b)), nil
}

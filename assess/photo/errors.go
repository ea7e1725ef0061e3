package photo

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
)

// Kind says in which way a file could not be taken as a photo. The set is
// closed: a switch over [Kinds] covers all.
type Kind string

// The kinds of refusal.
const (
	// NotAPhoto is a file that holds no picture, whatever its name says, or
	// that is no ordinary file (a pipe, a device).
	NotAPhoto Kind = "not a photo"
	// Unsupported is a picture of a sort that cannot be read.
	Unsupported Kind = "unsupported"
	// Empty is a file of no bytes.
	Empty Kind = "empty"
	// IsFolder is a folder.
	IsFolder Kind = "is a folder"
	// Missing is a path at which there is no file (any more).
	Missing Kind = "missing"
	// Unreadable is a file that the system does not let us read, by its
	// permissions or by a failing card, disk or network.
	Unreadable Kind = "unreadable"
	// TooLarge is a picture or a file above one of the [Limits].
	TooLarge Kind = "too large"
	// BadShape is a picture of no width or height, or far too long and
	// narrow for a photo.
	BadShape Kind = "bad shape"
	// Truncated is a photo whose file ends too early.
	Truncated Kind = "truncated"
	// Damaged is a photo whose file is whole in length but wrong inside.
	Damaged Kind = "damaged"
	// Changed is a file that another program wrote to while it was read.
	Changed Kind = "changed"
)

// Kinds returns every kind of refusal.
func Kinds() []Kind {
	return []Kind{NotAPhoto, Unsupported, Empty, IsFolder, Missing, Unreadable,
		TooLarge, BadShape, Truncated, Damaged, Changed}
}

// Error is the refusal of one file. Its text is a whole sentence for the
// person who chose the file.
type Error struct {
	// Name is the file's name without its folders.
	Name string
	// Kind is one of [Kinds].
	Kind Kind
	// What says what is wrong, Do what to do about it.
	What, Do string
	// Err is the cause, or nil.
	Err error
}

// Error returns the sentence: the file, what is wrong, what to do.
func (e *Error) Error() string {
	return fmt.Sprintf("photo %q: %s; %s", e.Name, e.What, e.Do)
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// KindOf returns the kind of a refusal, or "" when err is none: nil, or a
// work that was cancelled.
func KindOf(err error) Kind {
	if e, ok := errors.AsType[*Error](err); ok {
		return e.Kind
	}
	return ""
}

const copyAgain = "copy it from the camera again"

func refuse(name string, k Kind, cause error, do, what string, args ...any) error {
	return &Error{Name: filepath.Base(name), Kind: k, Err: cause, Do: do, What: fmt.Sprintf(what, args...)}
}

func stopped(name string, cause error) error {
	return fmt.Errorf("photo %q: stopped before it was finished: %w", filepath.Base(name), cause)
}

// cannotRead turns an error of the file system into a refusal.
func cannotRead(name string, err error) error {
	// The path in front of the cause would say the name a second time.
	reason := err
	if pe, ok := errors.AsType[*fs.PathError](err); ok {
		reason = pe.Err
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return refuse(name, Missing, err, "choose it again where it is now",
			"there is no such file (moved, renamed, or its card unplugged)")
	case errors.Is(err, fs.ErrPermission):
		return refuse(name, Unreadable, err, "allow your user to read it, or make a copy that you may read",
			"the file may not be read (%v)", reason)
	default:
		return refuse(name, Unreadable, err, "check the card, the cable or the network, then attach it again",
			"the file cannot be read (%v)", reason)
	}
}

func changed(name, how string) error {
	return refuse(name, Changed, nil, "wait until it is completely copied, then attach it again",
		"the file %s while it was being read", how)
}

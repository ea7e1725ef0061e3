package photo

import (
	"bufio"
	"context"
	"io"
	"io/fs"
	"time"
)

// source reads a file's bytes in order and remembers why reading ended. The
// decoders fold every end of input and every error of the reader into texts
// of their own; what really happened is asked here afterwards.
type source struct {
	ctx context.Context
	f   *File
	off int64
	// pastEnd is set once somebody wanted more bytes than the file has.
	pastEnd bool
	// err is the refusal that reading ended with, other than the plain end.
	err error
}

// Read implements io.Reader.
func (s *source) Read(p []byte) (int, error) {
	if s.err != nil {
		return 0, s.err
	}
	if err := s.ctx.Err(); err != nil {
		s.err = stopped(s.f.info.Name, err)
		return 0, s.err
	}
	left := s.f.info.Bytes - s.off
	if left <= 0 {
		if s.err = s.f.unchanged(); s.err != nil {
			return 0, s.err
		}
		s.pastEnd = true
		return 0, io.EOF
	}
	n, err := s.f.r.ReadAt(p[:min(int64(len(p)), left)], s.off)
	s.off += int64(n)
	switch {
	case n > 0 || len(p) == 0:
		return n, nil // an error beside bytes comes again with the next call
	case err == nil:
		return 0, io.ErrNoProgress
	case err == io.EOF:
		s.err = changed(s.f.info.Name, "became shorter")
	default:
		s.err = cannotRead(s.f.info.Name, err)
	}
	return 0, s.err
}

// buffered saves the decoders' many small reads from becoming system calls.
func (s *source) buffered() *bufio.Reader { return bufio.NewReaderSize(s, 64<<10) }

// stamp is what tells that an open file was written to.
type stamp struct {
	size int64
	time time.Time
}

type stater interface{ Stat() (fs.FileInfo, error) }

func stampOf(fi fs.FileInfo) stamp { return stamp{fi.Size(), fi.ModTime()} }

// unchanged returns nil when the file is still the one that was opened. A
// file that was merely deleted meanwhile stays readable through its handle
// and is complete, so that is no error.
func (f *File) unchanged() error {
	if st, ok := f.r.(stater); ok {
		fi, err := st.Stat()
		if err != nil {
			return cannotRead(f.info.Name, err)
		}
		if now := stampOf(fi); f.stamped && (now.size != f.stamp.size || !now.time.Equal(f.stamp.time)) {
			return changed(f.info.Name, "was written to by another program")
		}
	}
	var one [1]byte
	if n, _ := f.r.ReadAt(one[:], f.info.Bytes); n > 0 {
		return changed(f.info.Name, "grew")
	}
	return nil
}

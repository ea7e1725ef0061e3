package pdf

import (
	"bufio"
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"fmt"
	"hash"
	"io"
)

// output writes the file's objects and keeps where each of them begins. The
// first error sticks.
type output struct {
	w       *bufio.Writer
	sum     hash.Hash // of all that was written: the file's /ID is made of it
	written int64
	offsets []int64 // of object n at n-1
	err     error
}

func newOutput(w io.Writer) *output {
	return &output{w: bufio.NewWriterSize(w, 64<<10), sum: sha256.New()}
}

func (o *output) Write(p []byte) (int, error) {
	if o.err != nil {
		return 0, o.err
	}
	n, err := o.w.Write(p)
	o.sum.Write(p[:n])
	o.written += int64(n)
	o.err = err
	return n, err
}

func (o *output) printf(format string, args ...any) {
	fmt.Fprintf(o, format, args...)
}

// object begins the next object and gives its number.
func (o *output) object() int {
	o.offsets = append(o.offsets, o.written)
	o.printf("%d 0 obj\n", len(o.offsets))
	return len(o.offsets)
}

// dictionary writes a whole object that is a dictionary and gives its number.
func (o *output) dictionary(format string, args ...any) int {
	n := o.object()
	o.printf("<< "+format+" >>\nendobj\n", args...)
	return n
}

// stream writes a whole object with a stream and gives its number. entries is
// what stands in its dictionary beside the length.
func (o *output) stream(entries string, data []byte) int {
	n := o.object()
	o.printf("<< %s /Length %d >>\nstream\n", entries, len(data))
	o.Write(data)
	o.printf("\nendstream\nendobj\n")
	return n
}

// flush hands what is buffered to the writer below.
func (o *output) flush() {
	if o.err == nil {
		o.err = o.w.Flush()
	}
}

func compressed(data []byte) []byte {
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	z.Write(data) // a buffer takes everything
	z.Close()
	return b.Bytes()
}

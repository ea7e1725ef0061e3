package photo

import (
	"bytes"
	"compress/gzip"
	"context"
	_ "embed"
	"errors"
	"fmt"
	"image"
	"io"
	"sync"

	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/imports/wasi_snapshot_preview1"
)

// heifModule is libheif and libde265 as a WebAssembly module, as it is shipped in
// github.com/gen2brain/heic v0.4.5 (lib/heif.wasm.gz; their licences stand beside
// it). That library itself is not used: unless every build names the tag
// nodynamic, it loads whatever libheif the system has; it registers itself with
// package image, so that any image.Decode would run it; and it bounds neither the
// memory nor the time that a hostile file takes.
//
//go:embed heif/heif.wasm.gz
var heifModule []byte

// heifCompiled is kept for the next photo: compiling takes longer than decoding a
// small one. Memory and state are each photo's own.
var heifCompiled = sync.OnceValue(wazero.NewCompilationCache)

var heifBytes = sync.OnceValues(func() ([]byte, error) {
	z, err := gzip.NewReader(bytes.NewReader(heifModule))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(z)
})

// heicDecoder is a decoder in its sandbox.
type heicDecoder struct {
	memory                 api.Memory
	malloc, free, decodeFn api.Function
}

// withHEIC starts a decoder that can reach nothing (no file, no clock but its own,
// no output) and ends it. The error is errHEICTime where the budget's time ran out,
// and ctx's where ctx is done.
func withHEIC(ctx context.Context, budget heicBudget, work func(context.Context, *heicDecoder) error) (err error) {
	code, err := heifBytes()
	if err != nil {
		return fmt.Errorf("heic: %w", err)
	}
	const page = 64 << 10
	pages := min((budget.memory+page-1)/page, 1<<16)
	config := wazero.NewRuntimeConfig().WithCompilationCache(heifCompiled()).WithCloseOnContextDone(true).
		WithMemoryLimitPages(uint32(pages))
	// Without the caller's cancellation: to compile half a module helps nobody.
	whole := context.WithoutCancel(ctx)
	r := wazero.NewRuntimeWithConfig(whole, config)
	defer func() { _ = r.Close(whole) }() // what is closed is dropped: nothing can be lost
	if _, err := wasi_snapshot_preview1.Instantiate(whole, r); err != nil {
		return fmt.Errorf("heic: %w", err)
	}
	compiled, err := r.CompileModule(whole, code)
	if err != nil {
		return fmt.Errorf("heic: %w", err)
	}
	limited, cancel := context.WithTimeoutCause(ctx, budget.time, errHEICTime)
	defer cancel()
	mod, err := r.InstantiateModule(limited, compiled, wazero.NewModuleConfig().WithName(""))
	if err != nil {
		return errHEICDecode
	}
	d := &heicDecoder{memory: mod.Memory(), malloc: mod.ExportedFunction("malloc"),
		free: mod.ExportedFunction("free"), decodeFn: mod.ExportedFunction("decode")}
	err = work(limited, d)
	if err != nil && ctx.Err() == nil && errors.Is(context.Cause(limited), errHEICTime) {
		return fmt.Errorf("%w within %v", errHEICTime, budget.time)
	}
	return err
}

// The words of the decoder's interface.
const (
	heifYCbCr      = 0
	heifRGB        = 1
	heifMonochrome = 2

	heif420 = 1
	heif422 = 2
	heif444 = 3
)

var (
	errHEICDecode = errors.New("heic: the picture can't be decoded")
	errHEICMemory = errors.New("heic: decoding wants more memory than such a picture takes")
)

// layout is how the decoder hands a picture out.
type layout struct {
	width, height, colorspace, chroma, premultiplied uint32
}

// room takes memory in the sandbox.
func (d *heicDecoder) room(ctx context.Context, n int) (uint32, error) {
	res, err := d.malloc.Call(ctx, uint64(n))
	if err != nil || uint32(res[0]) == 0 {
		return 0, errHEICMemory
	}
	return uint32(res[0]), nil
}

// call runs the decoder: without out it reads the layout only.
func (d *heicDecoder) call(ctx context.Context, in, n, out uint32) (l layout, err error) {
	at, err := d.room(ctx, 20)
	if err != nil {
		return l, err
	}
	only := uint64(1)
	if out != 0 {
		only = 0
	}
	res, err := d.decodeFn.Call(ctx, uint64(in), uint64(n), only,
		uint64(at), uint64(at+4), uint64(at+8), uint64(at+12), uint64(at+16), uint64(out))
	if err != nil {
		return l, fmt.Errorf("%w: the decoder broke off", errHEICDecode) // its own words are many lines
	}
	if uint32(res[0]) == 0 {
		return l, errHEICDecode
	}
	for i, to := range []*uint32{&l.width, &l.height, &l.colorspace, &l.chroma, &l.premultiplied} {
		v, ok := d.memory.ReadUint32Le(at + uint32(4*i))
		if !ok {
			return l, errHEICDecode
		}
		*to = v
	}
	if l.width == 0 || l.height == 0 || l.width > 1<<16 || l.height > 1<<16 {
		return l, errHEICDecode
	}
	return l, nil
}

func (d *heicDecoder) give(ctx context.Context, data []byte) (uint32, error) {
	in, err := d.room(ctx, len(data))
	if err != nil {
		return 0, err
	}
	if !d.memory.Write(in, data) {
		return 0, errHEICMemory
	}
	return in, nil
}

// size returns the size that decode will have.
func (d *heicDecoder) size(ctx context.Context, data []byte) (image.Point, error) {
	in, err := d.give(ctx, data)
	if err != nil {
		return image.Point{}, err
	}
	defer d.free.Call(ctx, uint64(in))
	l, err := d.call(ctx, in, uint32(len(data)), 0)
	return image.Pt(int(l.width), int(l.height)), err
}

// decode decodes, and copies the picture out of the sandbox.
func (d *heicDecoder) decode(ctx context.Context, data []byte) (image.Image, error) {
	in, err := d.give(ctx, data)
	if err != nil {
		return nil, err
	}
	l, err := d.call(ctx, in, uint32(len(data)), 0)
	if err != nil {
		return nil, err
	}
	planes, err := l.planes()
	if err != nil {
		return nil, err
	}
	total := 0
	for _, p := range planes {
		total += p.stride * p.rows
	}
	out, err := d.room(ctx, total)
	if err != nil {
		return nil, err
	}
	if again, err := d.call(ctx, in, uint32(len(data)), out); err != nil || again != l {
		return nil, errHEICDecode
	}
	raw, ok := d.memory.Read(out, uint32(total))
	if !ok {
		return nil, errHEICDecode
	}
	return l.picture(planes, raw), nil
}

// plane of the decoder's output: how many bytes of each row count, and how far the
// rows lie apart.
type heifPlane struct{ bytes, stride, rows int }

// planes reckons how the decoder lays rows: from a width that is even and at least
// 64 samples, each row up to a multiple of 16 bytes.
func (l layout) planes() ([]heifPlane, error) {
	w, h := int(l.width), int(l.height)
	plane := func(w, h, bytes int) heifPlane {
		return heifPlane{w * bytes, (max(w+w%2, 64)*bytes + 15) &^ 15, h}
	}
	switch {
	case l.colorspace == heifMonochrome:
		return []heifPlane{plane(w, h, 1)}, nil
	case l.colorspace == heifRGB:
		return []heifPlane{plane(w, h, 4)}, nil
	case l.colorspace != heifYCbCr:
		return nil, heicUnsupported(fmt.Sprintf("heic: colour space %d", l.colorspace))
	}
	cw, ch := (w+1)/2, (h+1)/2
	switch l.chroma {
	case heif420:
	case heif422:
		ch = h
	case heif444:
		cw, ch = w, h
	default:
		return nil, heicUnsupported(fmt.Sprintf("heic: colour sampling %d", l.chroma))
	}
	return []heifPlane{plane(w, h, 1), plane(cw, ch, 1), plane(cw, ch, 1)}, nil
}

// picture packs the rows without gaps.
func (l layout) picture(planes []heifPlane, raw []byte) image.Image {
	packed := make([][]byte, len(planes))
	for i, p := range planes {
		packed[i] = make([]byte, p.bytes*p.rows)
		for y := range p.rows {
			copy(packed[i][y*p.bytes:(y+1)*p.bytes], raw[y*p.stride:])
		}
		raw = raw[p.stride*p.rows:]
	}
	rect := image.Rect(0, 0, int(l.width), int(l.height))
	switch {
	case l.colorspace == heifMonochrome:
		return &image.Gray{Pix: packed[0], Stride: planes[0].bytes, Rect: rect}
	case l.colorspace == heifRGB && l.premultiplied == 1:
		return &image.RGBA{Pix: packed[0], Stride: planes[0].bytes, Rect: rect}
	case l.colorspace == heifRGB:
		return &image.NRGBA{Pix: packed[0], Stride: planes[0].bytes, Rect: rect}
	}
	ratio := map[uint32]image.YCbCrSubsampleRatio{heif420: image.YCbCrSubsampleRatio420,
		heif422: image.YCbCrSubsampleRatio422, heif444: image.YCbCrSubsampleRatio444}[l.chroma]
	return &image.YCbCr{Y: packed[0], Cb: packed[1], Cr: packed[2], YStride: planes[0].bytes,
		CStride: planes[1].bytes, SubsampleRatio: ratio, Rect: rect}
}

package photo

import "math"

// Limits bounds what is taken as a photo. A field that is zero or negative
// has its default, so that the zero value is safe.
type Limits struct {
	// Megapixels is the largest picture, in millions of pixels; 200 by
	// default.
	Megapixels int
	// AspectRatio is how many times the long side may be the short one; 64
	// by default, which lets every panorama pass.
	AspectRatio int
	// FileBytes is the largest file, in bytes; 2 GiB by default.
	FileBytes int64
	// MemoryBytes is the most that decoding may take, in bytes as reckoned
	// from the header; 2 GiB by default. It is what refuses a picture of few
	// enough pixels that are stored in a costly way.
	MemoryBytes int64
}

const (
	defaultMegapixels  = 200
	defaultAspectRatio = 64
	defaultFileBytes   = 2 << 30
	defaultMemoryBytes = 2 << 30
)

func (l Limits) withDefaults() Limits {
	if l.Megapixels <= 0 {
		l.Megapixels = defaultMegapixels
	}
	if l.AspectRatio <= 0 {
		l.AspectRatio = defaultAspectRatio
	}
	if l.FileBytes <= 0 {
		l.FileBytes = defaultFileBytes
	}
	if l.MemoryBytes <= 0 {
		l.MemoryBytes = defaultMemoryBytes
	}
	return l
}

const saveSmaller = "save a smaller copy and attach that"

// checkSize refuses by the header alone.
func (l Limits) checkSize(name string, h header) error {
	if h.width <= 0 || h.height <= 0 {
		return refuse(name, BadShape, nil, copyAgain,
			"its header says that the picture is %d × %d pixels", h.width, h.height)
	}
	w, ht := int64(h.width), int64(h.height)
	if w > math.MaxInt32 || ht > math.MaxInt32 || w*ht > int64(l.Megapixels)*1_000_000 {
		return refuse(name, TooLarge, nil, saveSmaller,
			"the picture is %d × %d pixels (%.0f megapixels), the limit is %d megapixels",
			w, ht, math.Ceil(float64(w)*float64(ht)/1e6), l.Megapixels)
	}
	if max(w, ht) > min(w, ht)*int64(l.AspectRatio) {
		return refuse(name, BadShape, nil, "choose the photo that was meant, or cut it to a usual shape",
			"the picture is %d × %d pixels, too long and narrow for a photo", w, ht)
	}
	if need := int64(math.Ceil(float64(w*ht) * h.bytesPerPixel)); need > l.MemoryBytes {
		return refuse(name, TooLarge, nil, "save it as an ordinary (baseline, 8-bit) JPEG and attach that",
			"the picture of %d × %d pixels is stored in a way that takes %d MB of memory to decode, the limit is %d MB",
			w, ht, need>>20, l.MemoryBytes>>20)
	}
	return nil
}

func (l Limits) checkFile(name string, size int64) error {
	if size > l.FileBytes {
		return refuse(name, TooLarge, nil, saveSmaller,
			"the file has %d MB, the limit is %d MB", size>>20, l.FileBytes>>20)
	}
	return nil
}

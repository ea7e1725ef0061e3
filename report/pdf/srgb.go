package pdf

import (
	"encoding/binary"
	"math"
	"unicode/utf16"
)

// sRGBProfile is a colour profile (ICC 4.2) of sRGB as IEC 61966-2-1 defines
// it: three primaries and one curve, adapted to the D50 white of profiles. It
// tells what the colours of pages and pictures mean on any printer.
func sRGBProfile() []byte {
	curve := para(2.4, 1/1.055, 0.055/1.055, 1/12.92, 0.04045)
	tags := []struct {
		name string
		data []byte
	}{
		{"desc", mluc("sRGB")},
		{"cprt", mluc("No copyright, use freely")},
		{"wtpt", xyz(0.9642, 1, 0.8249)},
		{"chad", sf32(1.047882, 0.022918, -0.050217, 0.029586, 0.990479, -0.017059, -0.009232, 0.015076, 0.751678)},
		{"rXYZ", xyz(0.436066, 0.222488, 0.013916)},
		{"gXYZ", xyz(0.385147, 0.716873, 0.097076)},
		{"bXYZ", xyz(0.143066, 0.060608, 0.714096)},
		{"rTRC", curve},
		{"gTRC", curve},
		{"bTRC", curve},
	}
	head := make([]byte, 128, 1024)
	put := func(at int, v uint32) { binary.BigEndian.PutUint32(head[at:], v) }
	put(8, 0x04200000) // version 4.2
	copy(head[12:], "mntrRGB XYZ ")
	// The date is that of the standard; 18 October 1999.
	for i, v := range []uint16{1999, 10, 18, 0, 0, 0} {
		binary.BigEndian.PutUint16(head[24+2*i:], v)
	}
	copy(head[36:], "acsp")
	copy(head[68:], xyz(0.9642, 1, 0.8249)[8:])
	table := binary.BigEndian.AppendUint32(nil, uint32(len(tags)))
	var body []byte
	at := len(head) + 4 + 12*len(tags)
	for _, tag := range tags {
		table = append(table, tag.name...)
		table = binary.BigEndian.AppendUint32(table, uint32(at+len(body)))
		table = binary.BigEndian.AppendUint32(table, uint32(len(tag.data)))
		body = append(body, tag.data...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	profile := append(append(head, table...), body...)
	binary.BigEndian.PutUint32(profile, uint32(len(profile)))
	return profile
}

func fixed16(values []float64) []byte {
	var b []byte
	for _, v := range values {
		b = binary.BigEndian.AppendUint32(b, uint32(int32(math.Round(v*65536))))
	}
	return b
}

func xyz(values ...float64) []byte { return append([]byte("XYZ \x00\x00\x00\x00"), fixed16(values)...) }

func sf32(values ...float64) []byte {
	return append([]byte("sf32\x00\x00\x00\x00"), fixed16(values)...)
}

// para is a curve that is linear near black and a power above.
func para(values ...float64) []byte {
	return append([]byte("para\x00\x00\x00\x00\x00\x03\x00\x00"), fixed16(values)...)
}

// mluc is a text in one language, English.
func mluc(s string) []byte {
	units := utf16.Encode([]rune(s))
	b := []byte("mluc\x00\x00\x00\x00\x00\x00\x00\x01\x00\x00\x00\x0cenUS")
	b = binary.BigEndian.AppendUint32(b, uint32(2*len(units)))
	b = binary.BigEndian.AppendUint32(b, 28)
	for _, u := range units {
		b = binary.BigEndian.AppendUint16(b, u)
	}
	return b
}

package paint

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/jpeg"
	"image/png"
	"runtime"
	"strings"
	"testing"

	"stowbay/internal/inputs"
)

// pngHead is the start of a PNG that claims a size and holds nothing: signature and IHDR (ISO/IEC 15948, clause 11.2.2).
func pngHead(width, height uint32) []byte {
	chunk := []byte("IHDR")
	chunk = binary.BigEndian.AppendUint32(chunk, width)
	chunk = binary.BigEndian.AppendUint32(chunk, height)
	chunk = append(chunk, 8, 6, 0, 0, 0)
	out := append([]byte("\x89PNG\r\n\x1a\n"), 0, 0, 0, 13)
	out = append(out, chunk...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(chunk))
}

func encodedPNG(t testing.TB, w, h int) []byte {
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, w, h))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func encodedJPEG(t testing.TB, w, h int) []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, w, h)), nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestDecodePicture(t *testing.T) {
	for _, data := range [][]byte{encodedPNG(t, 7, 5), encodedJPEG(t, 7, 5)} {
		img, err := DecodePicture(data)
		if err != nil || img.Bounds().Size() != image.Pt(7, 5) {
			t.Errorf("%v, %v", img, err)
		}
		if _, err := DecodePicture(data[:len(data)-9]); err == nil || !strings.Contains(err.Error(), "is damaged") {
			t.Errorf("cut short: %v", err)
		}
	}
	for want, data := range map[string][]byte{
		"no PNG or JPEG picture": []byte("GIF89a"),
		"are too many":           pngHead(100_000, 100_000),
		"2147483647 by 1 pixels": pngHead(1<<31-1, 1),
	} {
		if img, err := DecodePicture(data); img != nil || err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// A picture that claims ten thousand million pixels is refused before room is made for it.
func TestHugePictureTakesNoMemory(t *testing.T) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	if _, err := DecodePicture(pngHead(100_000, 100_000)); err == nil {
		t.Fatal("no error")
	}
	runtime.ReadMemStats(&after)
	if got := after.TotalAlloc - before.TotalAlloc; got > 1<<20 {
		t.Errorf("%d bytes were taken", got)
	}
}

func FuzzDecodePicture(f *testing.F) {
	for _, data := range pictures(f) {
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) { _ = tryPicture(t, data) })
}

func TestFloodOfPictures(t *testing.T) {
	inputs.Flood{Target: "FuzzDecodePicture", Most: 900, Words: inputs.PictureWords, Examples: pictures(t), Read: func(t inputs.T, data []byte) error {
		if inputs.OneIn(2, data) {
			data = mended(data)
		}
		return tryPicture(t, data)
	}}.Run(t)
}

// mended gives the chunks of a PNG the checksums that they should have, so that what is spoilt gets past them.
func mended(data []byte) []byte {
	const head = 8
	out := bytes.Clone(data)
	for at := head; at+12 <= len(out); {
		end := at + 8 + int(binary.BigEndian.Uint32(out[at:])) + 4
		if end > len(out) || end < at+12 {
			break
		}
		binary.BigEndian.PutUint32(out[end-4:], crc32.ChecksumIEEE(out[at+4:end-4]))
		at = end
	}
	return out
}

func TestMendedChecksums(t *testing.T) {
	good := encodedPNG(t, 3, 2)
	bad := bytes.Clone(good)
	bad[len(bad)-1] ^= 1 // the checksum of the last chunk
	if bytes.Equal(good, bad) || !bytes.Equal(mended(bad), good) {
		t.Error("a checksum is not mended")
	}
}

func pictures(t testing.TB) [][]byte {
	return [][]byte{encodedPNG(t, 3, 2), encodedJPEG(t, 3, 2), pngHead(1<<31-1, 1)}
}

func tryPicture(t inputs.T, data []byte) error {
	if c, _, err := image.DecodeConfig(bytes.NewReader(data)); err == nil && c.Width > 0 && c.Height > 10_000/c.Width && c.Height <= MaxPicturePixels/c.Width {
		return nil // allowed, but filling its pixels takes the time of a thousand other inputs
	}
	img, err := DecodePicture(data)
	if (img == nil) == (err == nil) {
		t.Fatal("neither a picture nor an error, or both")
	}
	if err == nil && (img.Bounds().Empty() || img.Bounds().Dx() > MaxPicturePixels/img.Bounds().Dy()) {
		t.Errorf("a picture of %v", img.Bounds())
	}
	return err
}

package paint

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // pictures laid under the views
	_ "image/png"
)

// Limits of a picture laid under a view: a photograph or a scanned drawing of any sensible size is below them.
const (
	MaxPictureBytes  = 80_000_000 // size of the file
	MaxPicturePixels = 80_000_000 // width times height
)

// DecodePicture reads a PNG or JPEG picture. The size that its head states is looked at before any of it is unpacked, so that
// a small file that claims to be huge takes no memory. It never panics on any data.
func DecodePicture(data []byte) (image.Image, error) {
	if len(data) > MaxPictureBytes {
		return nil, fmt.Errorf("the picture takes more than %d bytes; save it smaller", MaxPictureBytes)
	}
	c, kind, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("this is no PNG or JPEG picture that can be read: %w", err)
	}
	if c.Width <= 0 || c.Height <= 0 {
		return nil, fmt.Errorf("the picture has no pixels (%d by %d)", c.Width, c.Height)
	}
	if int64(c.Width)*int64(c.Height) > MaxPicturePixels {
		return nil, fmt.Errorf("%d by %d pixels are too many; %d at most", c.Width, c.Height, MaxPicturePixels)
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the %s picture is damaged: %w", kind, err)
	}
	return img, nil
}

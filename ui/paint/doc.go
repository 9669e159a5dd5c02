// Package paint paints a display list into a picture. It knows display lists and pixels; neither plans nor
// windows.
//
// Painting is done straight into an opaque RGBA picture with premultiplied colours: upright rectangles and lines
// by their own coverage, everything else through an alpha mask from golang.org/x/image/vector whose empty runs
// are skipped.
package paint

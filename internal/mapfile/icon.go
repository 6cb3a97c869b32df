package mapfile

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"sync"
)

// shape is the outline of a point's icon.
type shape uint8

// The shapes. Those from disc to cross are in the order of the statuses.
const (
	noShape shape = iota
	disc
	square
	triangle
	cross
	ring
	small // a dot beside the number of a stand
)

// file returns the name of the shape's image inside a KMZ.
func (s shape) file() string {
	return "files/" + shapeNames[s] + ".png"
}

// iconPixels is the side of an icon: the size that viewers draw at scale 1 [C].
const iconPixels = 32

// icons are the images of all shapes from disc on, drawn once.
var icons = sync.OnceValues(func() ([][]byte, error) {
	var images [][]byte
	encoder := png.Encoder{BufferPool: new(oneBuffer)}
	for s := disc; s <= small; s++ {
		img, err := drawIcon(&encoder, s)
		if err != nil {
			return nil, err
		}
		images = append(images, img)
	}
	return images, nil
})

// oneBuffer is a pool for one goroutine. The buffer has a deflater, which takes a megabyte.
type oneBuffer struct{ *png.EncoderBuffer }

// Get returns the buffer that was put back.
func (o *oneBuffer) Get() *png.EncoderBuffer { return o.EncoderBuffer }

// Put keeps a buffer.
func (o *oneBuffer) Put(b *png.EncoderBuffer) { o.EncoderBuffer = b }

// drawIcon returns the shape as a PNG: white, so that a style can tint it, with a dark rim that stays
// dark and is visible on any background.
func drawIcon(encoder *png.Encoder, s shape) ([]byte, error) {
	img := image.NewNRGBA(image.Rect(0, 0, iconPixels, iconPixels))
	for y := range iconPixels {
		for x := range iconPixels {
			img.SetNRGBA(x, y, iconPixel(s, x, y))
		}
	}
	var b bytes.Buffer
	err := encoder.Encode(&b, img)
	return b.Bytes(), err
}

// iconPixel samples the shape at 16 places within a pixel.
func iconPixel(s shape, x, y int) color.NRGBA {
	const samples = 4
	inside, bright := 0, 0
	for j := range samples {
		for i := range samples {
			u := (float64(x)+(float64(i)+0.5)/samples)/iconPixels*2 - 1
			v := (float64(y)+(float64(j)+0.5)/samples)/iconPixels*2 - 1
			d := shapeDepth(s, u, v)
			if d > 0 {
				inside++
			}
			if d > 0.14 { // width of the rim: our choice
				bright++
			}
		}
	}
	if inside == 0 {
		return color.NRGBA{}
	}
	tone := uint8(255 * bright / inside)
	return color.NRGBA{R: tone, G: tone, B: tone, A: uint8(255 * inside / (samples * samples))}
}

// shapeDepth returns how far the point (u, v), both -1..1 with v downward, is inside the shape;
// negative outside.
func shapeDepth(s shape, u, v float64) float64 {
	r := math.Hypot(u, v)
	switch s {
	case square:
		return 0.78 - math.Max(math.Abs(u), math.Abs(v))
	case triangle:
		// distances from the base and from the two slanted sides
		return math.Min(0.75-v, (0.95+v-1.85*math.Abs(u))/math.Hypot(1, 1.85))
	case cross:
		a, b := math.Abs(u+v)/math.Sqrt2, math.Abs(u-v)/math.Sqrt2
		return math.Max(math.Min(0.36-a, 0.95-b), math.Min(0.36-b, 0.95-a))
	case ring:
		return 0.28 - math.Abs(r-0.65)
	case small:
		return 0.5 - r
	}
	return 0.9 - r
}

// shapeNames are the names of shapes, as in the names of their images in a KMZ.
var shapeNames = [...]string{"", "disc", "square", "triangle", "cross", "ring", "dot"}

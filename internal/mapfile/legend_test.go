package mapfile

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"
)

// TestLegendIsOfTheseLooks: the picture was made from the page that the present symbols give. "go
// run ./scripts/viewlegend" makes both again.
func TestLegendIsOfTheseLooks(t *testing.T) {
	page, err := os.ReadFile(filepath.Join("..", "..", "testdata", "mapfile", "legend.html"))
	if err != nil {
		t.Fatal(err)
	}
	if string(page) != LegendPage() {
		t.Error("the looks changed since legend.png was made: run go run ./scripts/viewlegend")
	}
}

// TestLegendHasEveryHue: the colour of every symbol's line or icon occurs in the picture unchanged.
func TestLegendHasEveryHue(t *testing.T) {
	img, err := png.Decode(bytes.NewReader(legendImage))
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range looks() {
		hue := l.line
		if l.width == 0 {
			hue = l.fill
		}
		if l.width >= 1.5 || l.width == 0 {
			if !holds(img, hue.at(1)) {
				t.Errorf("%s: %06X is not in the legend", l.id, uint32(hue))
			}
		}
	}
}

func holds(img image.Image, want color.RGBA) bool {
	for y := img.Bounds().Min.Y; y < img.Bounds().Max.Y; y++ {
		for x := img.Bounds().Min.X; x < img.Bounds().Max.X; x++ {
			if color.RGBAModel.Convert(img.At(x, y)) == want {
				return true
			}
		}
	}
	return false
}

// TestIcons: each icon is 32 pixels square, transparent at the corner, and white in the middle;
// only the ring is transparent in the middle.
func TestIcons(t *testing.T) {
	encoder := png.Encoder{BufferPool: new(oneBuffer)}
	for s := disc; s <= small; s++ {
		data, err := drawIcon(&encoder, s)
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		if img.Bounds().Dx() != iconPixels || img.Bounds().Dy() != iconPixels {
			t.Errorf("%s is %v", s.file(), img.Bounds())
		}
		if _, _, _, a := img.At(0, 0).RGBA(); a != 0 {
			t.Errorf("%s: corner is not clear", s.file())
		}
		r, _, _, a := img.At(iconPixels/2, iconPixels/2).RGBA()
		if white := r == 0xffff && a == 0xffff; white != (s != ring) {
			t.Errorf("%s: middle is %v", s.file(), img.At(iconPixels/2, iconPixels/2))
		}
	}
}

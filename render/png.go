package render

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image/png"
	"io"
	"math"
)

// Limits of a picture. The largest sheet of ISO 216, A0, at 300 dpi is 140
// million pixels.
const (
	MinDPI     = 24
	MaxDPI     = 1200
	maxSideMM  = 5000
	maxPixels  = 160e6
	mmPerInch  = 25.4
	pngHeader  = 33 // signature and IHDR
	perMetre   = 1  // the unit byte of pHYs
	inchesAMtr = 1000 / mmPerInch
)

// WritePNG draws the sheet at a number of dots per inch. The same sheet always
// gives the same bytes. Marks reaching beyond the sheet are cut off at its edge.
func WritePNG(w io.Writer, s *Sheet, dpi int) error {
	if err := checkPicture(s, dpi); err != nil {
		return err
	}
	var b bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := enc.Encode(&b, rasterise(s, float64(dpi)/mmPerInch)); err != nil {
		return err
	}
	data := b.Bytes()
	for _, part := range [][]byte{data[:pngHeader], physical(dpi), data[pngHeader:]} {
		if _, err := w.Write(part); err != nil {
			return err
		}
	}
	return nil
}

func checkPicture(s *Sheet, dpi int) error {
	if dpi < MinDPI || dpi > MaxDPI {
		return fmt.Errorf("a picture takes %d to %d dots per inch, not %d", MinDPI, MaxDPI, dpi)
	}
	for _, side := range []float64{s.Width, s.Height} {
		if !(side > 0 && side <= maxSideMM) {
			return fmt.Errorf("a sheet side takes more than 0 and at most %d mm, not %g mm", maxSideMM, side)
		}
	}
	pxPerMM := float64(dpi) / mmPerInch
	if n := s.Width * s.Height * pxPerMM * pxPerMM; n > maxPixels {
		return fmt.Errorf("%g x %g mm at %d dpi is %.0f million pixels; the most is %.0f million",
			s.Width, s.Height, dpi, n/1e6, maxPixels/1e6)
	}
	return s.Check()
}

// physical is the pHYs chunk, so that the picture prints at its true size.
// The standard encoder writes none.
func physical(dpi int) []byte {
	perM := uint32(math.Round(float64(dpi) * inchesAMtr))
	chunk := binary.BigEndian.AppendUint32(nil, 9)
	chunk = append(chunk, "pHYs"...)
	chunk = binary.BigEndian.AppendUint32(chunk, perM)
	chunk = binary.BigEndian.AppendUint32(chunk, perM)
	chunk = append(chunk, perMetre)
	return binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
}

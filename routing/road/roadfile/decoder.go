package roadfile

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"drawbar/routing/road/network"
)

// errDecode is what a decoder ends with when the body is not sound.
var errDecode = errors.New("roadfile: unsound body")

// decoder reads a body. After the first error everything reads as zero.
type decoder struct {
	b   []byte
	err error
}

func (d *decoder) fail(format string, args ...any) {
	if d.err == nil {
		d.err = fmt.Errorf("%w: %s", errDecode, fmt.Sprintf(format, args...))
	}
	d.b = nil
}

// uint reads a number not above most.
func (d *decoder) uint(most uint64) uint64 {
	v, n := binary.Uvarint(d.b)
	if n <= 0 || v > most {
		d.fail("number missing or above %d", most)
		return 0
	}
	d.b = d.b[n:]
	return v
}

// below reads an index into a table of n entries.
func (d *decoder) below(n int) int32 {
	if n == 0 {
		d.fail("index into an empty table")
		return 0
	}
	return int32(d.uint(uint64(n - 1)))
}

// int reads a number between least and most.
func (d *decoder) int(least, most int64) int64 {
	v, n := binary.Varint(d.b)
	if n <= 0 || v < least || v > most {
		d.fail("number missing or outside %d to %d", least, most)
		return max(least, min(0, most))
	}
	d.b = d.b[n:]
	return v
}

// count reads the length of a table whose entries take at least size bytes, so
// that no length can ask for more memory than the file has bytes.
func (d *decoder) count(size int) int {
	n := int(d.uint(min(math.MaxInt32/2, uint64(len(d.b)/size))))
	if n > len(d.b)/size {
		d.fail("a table of %d entries in %d bytes", n, len(d.b))
		return 0
	}
	return n
}

func (d *decoder) text() string {
	n := d.count(1)
	s := string(d.b[:n])
	d.b = d.b[n:]
	return s
}

// step reads a point as its difference from another.
func (d *decoder) step(from network.Point) network.Point {
	lat := int64(from.Lat) + d.int(-360e6, 360e6)
	lon := int64(from.Lon) + d.int(-720e6, 720e6)
	if lat < -90e6 || lat > 90e6 || lon < -180e6 || lon > 180e6 {
		d.fail("a point that is not on Earth")
		return network.Point{}
	}
	return network.Point{Lat: int32(lat), Lon: int32(lon)}
}

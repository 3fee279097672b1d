// Package tape writes and reads the compact form in which a program keeps what it has read of its own files: whole
// numbers, real numbers and texts, one after the other.
package tape

import (
	"encoding/binary"
	"math"
)

// Writer is what was written so far.
type Writer []byte

// Number writes a whole number that is not negative.
func (w *Writer) Number(v int) { *w = binary.AppendUvarint(*w, uint64(v)) }

// Real writes a real number.
func (w *Writer) Real(v float64) { *w = binary.LittleEndian.AppendUint64(*w, math.Float64bits(v)) }

// Text writes a text, or any bytes.
func (w *Writer) Text(s string) {
	w.Number(len(s))
	*w = append(*w, s...)
}

// Reader reads a tape from its start. What is nothing a Writer wrote breaks it: from there on it gives zeroes.
type Reader struct {
	Rest   string
	Broken bool
}

// Done tells whether the tape was read to its end and without a break.
func (r *Reader) Done() bool { return !r.Broken && r.Rest == "" }

// Number reads a whole number of at most 35 bits.
func (r *Reader) Number() int {
	var v uint64
	for i := 0; i < len(r.Rest) && i < 5; i++ {
		b := r.Rest[i]
		v |= uint64(b&0x7f) << (7 * i)
		if b < 0x80 {
			r.Rest = r.Rest[i+1:]
			return int(v)
		}
	}
	r.Break()
	return 0
}

// Real reads a real number.
func (r *Reader) Real() float64 {
	if len(r.Rest) < 8 {
		r.Break()
		return 0
	}
	b := []byte(r.Rest[:8])
	r.Rest = r.Rest[8:]
	return math.Float64frombits(binary.LittleEndian.Uint64(b))
}

// Text reads a text. It shares the tape's memory.
func (r *Reader) Text() string {
	n := r.Number()
	if n > len(r.Rest) {
		r.Break()
		return ""
	}
	s := r.Rest[:n]
	r.Rest = r.Rest[n:]
	return s
}

// Break says that what was read is nothing that was written.
func (r *Reader) Break() { r.Rest, r.Broken = "", true }

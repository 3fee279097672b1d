package change

import (
	"io"
	"strings"

	"corerod/checker"
)

// fileOf is a part file with some bytes.
func fileOf(name string, b []byte) checker.File {
	return checker.File{Name: name, Open: func() (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(string(b))), nil }}
}

package source

import (
	"regexp"
	"sync"
)

// Pattern is a regular expression that is compiled when it is first used, not when the program starts.
func Pattern(s string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(s) })
}

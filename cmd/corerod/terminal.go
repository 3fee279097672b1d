package main

import (
	"fmt"
	"io"
	"os"
	"runtime"
	"slices"
	"strings"
	"time"
)

// isTerminal tells whether a stream is shown on a terminal: a device that takes characters.
func isTerminal(f *os.File) bool {
	i, err := f.Stat()
	return err == nil && i.Mode()&os.ModeCharDevice != 0
}

// colourWords are the values of --color.
var colourWords = []string{"auto", "always", "never"}

// coloured tells whether text on standard output is coloured. Unless the call says so it is on a terminal alone, not where
// NO_COLOR is set or the terminal cannot, and never on Windows, whose consoles may show the codes instead.
func (c *call) coloured(word string) (bool, error) {
	if !slices.Contains(colourWords, word) {
		return false, wrong("--color is %q; it must be auto, always or never%s", word, meant(word, colourWords, ""))
	}
	auto := c.OutTerminal && c.env("NO_COLOR") == "" && c.env("TERM") != "dumb" && runtime.GOOS != "windows"
	return word == "always" || word == "auto" && auto, nil
}

// How long a review goes on before it tells how far it is, and how long the line stays before it is rewritten.
const (
	wait = 300 * time.Millisecond
	stay = 50 * time.Millisecond
)

// progress is one line on a terminal that is rewritten in place.
type progress struct {
	w     io.Writer
	since func() time.Duration // since the review began
	last  time.Duration        // when the line was written
	shown int                  // characters on the line
}

// progress tells how far a review of several parts is, where somebody can see it: on a terminal, and where no steps are
// traced there.
func (c *call) progress(parts int) *progress {
	if !c.ErrTerminal || c.trace || parts < 2 {
		return nil
	}
	start := time.Now()
	return &progress{w: c.Err, since: func() time.Duration { return time.Since(start) }}
}

// tell rewrites the line.
func (p *progress) tell(done, all, findings int) {
	if p == nil {
		return
	}
	now := p.since()
	if now < wait || now < p.last+stay && done < all {
		return
	}
	p.last = now
	what := "findings"
	if findings == 1 {
		what = "finding"
	}
	p.write(fmt.Sprintf("%d of %d parts, %d %s", done, all, findings, what))
}

// end erases the line.
func (p *progress) end() {
	if p != nil && p.shown > 0 {
		p.write("")
		fmt.Fprint(p.w, "\r")
	}
}

// write puts text over what is on the line; spaces cover the rest, since not every terminal can erase.
func (p *progress) write(text string) {
	fmt.Fprintf(p.w, "\r%s%s", text, strings.Repeat(" ", max(0, p.shown-len(text))))
	p.shown = len(text)
}

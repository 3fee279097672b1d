// Package checker joins the steps of a review: a part file's bytes become a part, its as-pressed shape, subjects,
// findings and a result that reports are written from. It knows no file system, no clock and no environment: files,
// packs and options come in, values come out, and the same input gives the same result at any parallelism.
package checker

import (
	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/subject"
	"corerod/parts/tooling"
)

// Derive computes everything that rules judge about a part that was read without problems.
func Derive(p *parts.Part) (*subject.Part, parts.Problems) {
	b, ps := blank.Make(p)
	if len(ps) > 0 {
		return nil, ps
	}
	b.Subject.PunchesTop = float64(len(tooling.Punches(b, "top")))
	b.Subject.PunchesBottom = float64(len(tooling.Punches(b, "bottom")))
	return b.Subject, nil
}

// Read reads a part file and derives its subjects; problems of the reading and of the profiles come together.
func Read(file string, b []byte) (*parts.Part, *subject.Part, parts.Problems) {
	p, ps := parts.Parse(file, b)
	if len(ps) > 0 {
		if p != nil {
			ps = append(ps, blank.Check(p)...).Sorted()
		}
		return p, nil, ps
	}
	s, ps := Derive(p)
	return p, s, ps
}

package words

import (
	"slices"
	"strings"

	"corerod/checker"
	"corerod/parts/source"
	"corerod/parts/stock"
	"corerod/rules"
)

// Sources words what grounds a finding, each source once: one that a figure is taken from by memory or derived from is named
// as that.
func Sources(f *checker.Finding) string {
	var all []string
	for i, s := range f.Sources {
		weaker := func(x rules.Cited) bool {
			return s.Key != "" && x.Key == s.Key && (x.Basis == stock.Memory || x.Basis == stock.Derived)
		}
		if !slices.ContainsFunc(f.Sources[i+1:], weaker) {
			all = append(all, ground(f, s))
		}
	}
	return strings.Join(all, "; ")
}

// ground words one source with its basis, as the reader must weigh it.
func ground(f *checker.Finding, c rules.Cited) string {
	return Source(f.Rule.Pack, c.Key, c.Basis)
}

// Source names a source of a pack with its basis.
func Source(p *rules.Pack, key string, basis stock.Basis) string {
	title := source.Plain(key)
	if s, ok := p.Sources[key]; ok {
		title = source.Plain(s.Title)
		if s.By != "" {
			title = source.Plain(s.By) + ", " + title
		}
		if s.At != "" {
			title += ", " + source.Plain(s.At)
		}
	}
	switch basis {
	case stock.Practice:
		return "common practice, no source"
	case stock.Memory:
		if title == "" {
			return "from memory, unverified: shop to confirm"
		}
		return title + " (from memory, unverified: shop to confirm)"
	case stock.Derived:
		return title + " (derived from its figures)"
	}
	return title
}

package rules

import (
	"maps"

	"corerod/parts/tape"
)

// keepPack is a pack that was read from its files, in the form that keptPack reads.
func keepPack(p *Pack) string {
	var w tape.Writer
	(&codec{to: &w}).pack(p.own())
	return string(w)
}

// own is a pack with what it gives itself alone.
func (p *Pack) own() *Pack {
	q := newPack()
	q.Name, q.Version, q.Title, q.Bases = p.Name, p.Version, p.Title, p.Bases
	maps.Copy(q.Sources, p.Sources)
	maps.DeleteFunc(q.Sources, func(_ string, s Source) bool { return s.Origin.Pack != p.Name })
	ours(q.Limits, p.Limits, func(x *Limit) bool { return x.Origin.Pack == p.Name })
	ours(q.Tables, p.Tables, func(x *Table) bool { return x.Origin.Pack == p.Name })
	ours(q.Materials, p.Materials, func(x *StockMaterial) bool { return x.Origin.Pack == p.Name })
	ours(q.Curves, p.Curves, func(x *Curve) bool { return x.Origin.Pack == p.Name })
	ours(q.Presses, p.Presses, func(x *Press) bool { return x.Origin.Pack == p.Name })
	for _, r := range p.Rules {
		if r.From == p {
			q.Rules = append(q.Rules, r)
		}
	}
	return q
}

func ours[T any](to, from map[string]*T, own func(*T) bool) {
	for name, x := range from {
		if own(x) {
			to[name] = x
		}
	}
}

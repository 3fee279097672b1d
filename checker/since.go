package checker

import (
	"maps"
	"slices"

	"corerod/parts/form"
	"corerod/parts/subject"
)

// Rename is a feature or dimension that has another name than before.
type Rename struct{ From, To string }

// since compares a part with what it was: what became of each finding, what is cleared, and what is declared otherwise.
func (p *PartReview) since(was *EarlierPart) {
	d := &redrawing{}
	if was.same {
		p.was, p.matched, p.redrawing = was, was.Findings, d
		for _, f := range p.Findings {
			f.Since = SinceSame
		}
		return
	}
	d.rename(was.States.Drawn, p.States.Drawn)
	m := match(was.instances(), p.instances(), d)
	p.was, p.matched = was, make([]*EarlierFinding, len(p.Findings))
	left := make([]bool, len(was.Findings))
	fares := make([]map[How]bool, len(p.Findings))
	for _, x := range m.pair(was.Findings, recordsOf(p)) {
		if x.new == nil {
			continue
		}
		if fares[x.new.of] == nil {
			fares[x.new.of] = map[How]bool{}
		}
		fares[x.new.of][x.how()] = true
		if how := x.how(); how == Gained || how == Worsened {
			p.Findings[x.new.of].worse = append(p.Findings[x.new.of].worse, x.new.compared...)
		}
		if x.old != nil {
			left[x.old.of] = true
			p.matched[x.new.of] = was.Findings[x.old.of]
		}
	}
	for i, f := range p.Findings {
		f.Since = sinceOf(fares[i])
		if f.Subject.Kind() == subject.CrossingKind && f.Since == SinceSame && !p.drawnAlike(was, f.Subject.Place().Features, d) {
			f.Since = SinceWorse // what is measured of it does not tell how large it is
		}
	}
	for i, x := range was.Findings {
		if !left[i] {
			p.Cleared = append(p.Cleared, *x)
		}
	}
	p.Renamed = renamesOf(d)
	p.Restated = restated(&was.States, &p.States, d.names, p.Force.Book.Rules)
	p.redrawing = d
}

// drawnAlike tells whether the features across the axis among some are drawn as they were.
func (p *PartReview) drawnAlike(was *EarlierPart, features []string, d *redrawing) bool {
	for i := range p.States.Drawn {
		n := &p.States.Drawn[i]
		if n.Section != "sides" || !slices.Contains(features, n.Name) {
			continue
		}
		like := func(o form.Drawn) bool {
			return o.Section == n.Section && d.renamed("", o.Name) == n.Name && n.Like(&o, d.names)
		}
		if !slices.ContainsFunc(was.States.Drawn, like) {
			return false
		}
	}
	return true
}

// sinceOf is what became of a finding whose subjects fared in some ways.
func sinceOf(fares map[How]bool) Since {
	switch {
	case fares[Gained] && len(fares) == 1 || len(fares) == 0:
		return SinceNew
	case fares[Gained], fares[Worsened]:
		return SinceWorse
	}
	return SinceSame
}

// renamesOf are the renames of features, then of dimensions, in order.
func renamesOf(d *redrawing) (all []Rename) {
	for _, names := range []map[string]string{d.names, d.sizes} {
		for _, from := range slices.Sorted(maps.Keys(names)) {
			all = append(all, Rename{from, names[from]})
		}
	}
	return all
}

// instances are the subjects of an earlier part, or those that it had findings of.
func (was *EarlierPart) instances() (all []*instance) {
	if was.whole != nil {
		return instancesOf(was.whole)
	}
	return spotsOf(was.Findings)
}

// instances are the subjects of a part, or those that it has findings of.
func (p *PartReview) instances() []*instance {
	if !p.slimmed {
		return instancesOf(p.Subject)
	}
	return spotsOf(recordsOf(p))
}

// spotsOf are the subjects that findings are of, each once.
func spotsOf(records []*EarlierFinding) (all []*instance) {
	seen := map[string]bool{}
	add := func(s subject.Spot) {
		if key := spotKey(s); !seen[key] {
			seen[key] = true
			all = append(all, &instance{Spot: s})
		}
	}
	for _, f := range records {
		for _, s := range f.judged() {
			add(s)
		}
		for _, c := range f.Compared {
			for _, s := range []*subject.Spot{c.Of, c.To} {
				if s != nil {
					add(*s)
				}
			}
		}
	}
	return all
}

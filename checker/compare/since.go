package compare

import (
	"maps"
	"slices"

	"corerod/checker"
	"corerod/parts/form"
	"corerod/parts/subject"
	"corerod/rules"
)

// since compares a part with what it was: what became of each finding, what is cleared, and what is declared otherwise.
func since(p *checker.PartReview, was *checker.EarlierPart) {
	d := &redrawing{}
	p.Was = was
	if was.Same {
		for i, f := range p.Findings {
			f.Since, f.Was = checker.SinceSame, was.Findings[i]
		}
		return
	}
	d.rename(was.States.Drawn, p.States.Drawn)
	m := match(instancesThen(was), instancesNow(p), d)
	left := make([]bool, len(was.Findings))
	fares := make([]map[How]bool, len(p.Findings))
	worse := make([][]rules.Compared, len(p.Findings))
	for _, x := range m.pair(was.Findings, recordsOf(p)) {
		if x.new == nil {
			continue
		}
		if fares[x.new.of] == nil {
			fares[x.new.of] = map[How]bool{}
		}
		fares[x.new.of][x.how()] = true
		if how := x.how(); how == Gained || how == Worsened {
			worse[x.new.of] = append(worse[x.new.of], x.new.compared...)
		}
		if x.old != nil {
			left[x.old.of] = true
			p.Findings[x.new.of].Was = was.Findings[x.old.of]
		}
	}
	for i, f := range p.Findings {
		f.Since, f.Ordered = sinceOf(fares[i]), worseFirst(f.Entries(), worse[i])
		if f.Subject.Kind() == subject.CrossingKind && f.Since == checker.SinceSame && !drawnAlike(p, was, f.Subject.Place().Features, d) {
			f.Since = checker.SinceWorse // what is measured of it does not tell how large it is
		}
	}
	for i, x := range was.Findings {
		if !left[i] {
			p.Cleared = append(p.Cleared, *x)
		}
	}
	p.Renamed = renamesOf(d)
	p.Restated = restated(&was.States, &p.States, d.names, p.Force.Book.Rules)
}

// worseFirst are entries in another order: those that are new or worse first. It is nil where all are or none is.
func worseFirst(all, worse []rules.Compared) []rules.Compared {
	if len(worse) == 0 || len(worse) == len(all) {
		return nil
	}
	is := func(a, b *rules.Compared) bool {
		return a.Of != nil && b.Of != nil && a.Measure == b.Measure && spotKey(*a.Of) == spotKey(*b.Of) && (a.To == nil) == (b.To == nil) &&
			(a.To == nil || spotKey(*a.To) == spotKey(*b.To))
	}
	first := slices.DeleteFunc(slices.Clone(worse), func(c rules.Compared) bool { return c.Of == nil })
	rest := slices.DeleteFunc(slices.Clone(all), func(c rules.Compared) bool {
		return slices.ContainsFunc(first, func(w rules.Compared) bool { return is(&w, &c) })
	})
	return append(first, rest...)
}

// drawnAlike tells whether the features across the axis among some are drawn as they were.
func drawnAlike(p *checker.PartReview, was *checker.EarlierPart, features []string, d *redrawing) bool {
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
func sinceOf(fares map[How]bool) checker.Since {
	switch {
	case fares[Gained] && len(fares) == 1 || len(fares) == 0:
		return checker.SinceNew
	case fares[Gained], fares[Worsened]:
		return checker.SinceWorse
	}
	return checker.SinceSame
}

// renamesOf are the renames of features, then of dimensions, in order.
func renamesOf(d *redrawing) (all []checker.Rename) {
	for _, names := range []map[string]string{d.names, d.sizes} {
		for _, from := range slices.Sorted(maps.Keys(names)) {
			all = append(all, checker.Rename{From: from, To: names[from]})
		}
	}
	return all
}

// instancesThen are the subjects of an earlier part, or those that it had findings of.
func instancesThen(was *checker.EarlierPart) (all []*instance) {
	if was.Whole != nil {
		return instancesOf(was.Whole)
	}
	return spotsOf(was.Findings)
}

// instancesNow are the subjects of a part, or those that it has findings of.
func instancesNow(p *checker.PartReview) []*instance {
	if !p.Slimmed() {
		return instancesOf(p.Subject)
	}
	return spotsOf(recordsOf(p))
}

// spotsOf are the subjects that findings are of, each once.
func spotsOf(records []*checker.EarlierFinding) (all []*instance) {
	seen := map[string]bool{}
	add := func(s subject.Spot) {
		if key := spotKey(s); !seen[key] {
			seen[key] = true
			all = append(all, &instance{Spot: s})
		}
	}
	for _, f := range records {
		for _, s := range judged(f) {
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

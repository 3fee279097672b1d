package checker

import (
	"math"
	"slices"

	"corerod/parts/form"
	"corerod/parts/source"
)

// Redrawn is one value of a part file that another revision has otherwise; nil where it is not there.
type Redrawn struct{ Old, New *form.Value }

// RedrawnFeature is a feature or dimension that another revision has otherwise.
type RedrawnFeature struct {
	How      How // Added, Removed, Altered or Renamed
	Section  string
	Old, New *form.Value // nil where it is not there
	Values   []Redrawn   // that differ
}

// Forms are the profiles, or kinds of a side feature, or treatments of an edge, of a feature before and after; "" where it
// has none.
func (f *RedrawnFeature) Forms() (old, new string) { return formOf(f.Old), formOf(f.New) }

func formOf(v *form.Value) string {
	if f := formIn(v); f != nil {
		return f.Key
	}
	return ""
}

func formIn(v *form.Value) *form.Value {
	if v == nil {
		return nil
	}
	if i := slices.IndexFunc(v.In, func(in *form.Value) bool { return in.Shaping }); i >= 0 {
		return v.In[i]
	}
	return nil
}

// redrawing compares two part files.
type redrawing struct {
	old, new *form.Value
	names    map[string]string // of features that were renamed, old to new
	sizes    map[string]string // of dimensions, likewise
	swapped  map[string]bool   // names that another feature had
}

func newRedrawing(old, new *form.Value) *redrawing {
	d := &redrawing{old: old, new: new}
	d.rename(form.DrawnOf(old), form.DrawnOf(new))
	return d
}

// outside are the values that differ outside features.
func (d *redrawing) outside() []Redrawn {
	return d.values(withoutNamed(d.old), withoutNamed(d.new))
}

func withoutNamed(root *form.Value) *form.Value {
	v := *root
	v.In = slices.DeleteFunc(slices.Clone(v.In), func(in *form.Value) bool { return slices.Contains(form.Sections(), in.Key) })
	return &v
}

// features are the features that differ.
func (d *redrawing) features() (all []RedrawnFeature) {
	for _, section := range form.Sections() {
		was := d.byNewName(section)
		if now := d.new.At(section); now != nil {
			for _, n := range now.In {
				o := was[n.Key]
				delete(was, n.Key)
				f := RedrawnFeature{How: Altered, Section: section, Old: o, New: n, Values: d.values(o, n)}
				switch {
				case o == nil:
					f.How = Added
				case o.Key != n.Key:
					f.How = Renamed
				case len(f.Values) == 0:
					continue
				}
				all = append(all, f)
			}
		}
		if before := d.old.At(section); before != nil {
			for _, o := range before.In {
				if was[d.renamed(section, o.Key)] == o {
					all = append(all, RedrawnFeature{How: Removed, Section: section, Old: o, Values: d.values(o, nil)})
				}
			}
		}
	}
	return all
}

// byNewName are the old entries of a section by the names that they have in the new file.
func (d *redrawing) byNewName(section string) map[string]*form.Value {
	all := map[string]*form.Value{}
	if v := d.old.At(section); v != nil {
		for _, o := range v.In {
			all[d.renamed(section, o.Key)] = o
		}
	}
	return all
}

// values are the single values that differ between two; either may be nil.
func (d *redrawing) values(a, b *form.Value) []Redrawn {
	switch {
	case a == nil && b == nil:
		return nil
	case a == nil:
		return leaves(b, func(v *form.Value) Redrawn { return Redrawn{nil, v} })
	case b == nil:
		return leaves(a, func(v *form.Value) Redrawn { return Redrawn{v, nil} })
	case a.Shape != b.Shape:
		return append(d.values(nil, b), d.values(a, nil)...)
	case a.Shape == source.Map:
		return d.maps(a, b)
	case a.Shape == source.Sequence && isSet(a):
		return d.sets(a, b)
	case a.Shape == source.Sequence:
		return d.lists(a, b)
	case d.equal(a, b):
		return nil
	}
	return []Redrawn{{a, b}}
}

func leaves(v *form.Value, as func(*form.Value) Redrawn) (all []Redrawn) {
	if v.Shape == source.Scalar {
		return []Redrawn{as(v)}
	}
	for _, in := range v.In {
		all = append(all, leaves(in, as)...)
	}
	return all
}

// maps compares keys; a profile that has become another is compared with it key by key.
func (d *redrawing) maps(a, b *form.Value) (all []Redrawn) {
	from, to := formIn(a), formIn(b)
	for _, v := range b.In {
		before := a.At(v.Key)
		if v == to && before == nil {
			before = from
		}
		all = append(all, d.values(before, v)...)
	}
	for _, v := range a.In {
		if b.At(v.Key) == nil && (v != from || to == nil) {
			all = append(all, d.values(v, nil)...)
		}
	}
	return all
}

// lists compares items by index; where one list is longer, the items between those that are alike at both ends.
func (d *redrawing) lists(a, b *form.Value) (all []Redrawn) {
	x, y := a.In, b.In
	if len(x) != len(y) {
		for len(x) > 0 && len(y) > 0 && len(d.values(x[0], y[0])) == 0 {
			x, y = x[1:], y[1:]
		}
		for len(x) > 0 && len(y) > 0 && len(d.values(x[len(x)-1], y[len(y)-1])) == 0 {
			x, y = x[:len(x)-1], y[:len(y)-1]
		}
	}
	for i := range max(len(x), len(y)) {
		switch {
		case i >= len(x):
			all = append(all, d.values(nil, y[i])...)
		case i >= len(y):
			all = append(all, d.values(x[i], nil)...)
		default:
			all = append(all, d.values(x[i], y[i])...)
		}
	}
	return all
}

// isSet tells a list whose order says nothing: seats, what is held, and the two features of a blend.
func isSet(v *form.Value) bool { return v.AnyOrder() }

func (d *redrawing) sets(a, b *form.Value) (all []Redrawn) {
	in := func(v *form.Value, all []*form.Value, equal func(x, y *form.Value) bool) bool {
		return slices.ContainsFunc(all, func(o *form.Value) bool { return equal(v, o) })
	}
	for _, v := range b.In {
		if !in(v, a.In, func(x, y *form.Value) bool { return d.equal(y, x) }) {
			all = append(all, Redrawn{nil, v})
		}
	}
	for _, v := range a.In {
		if !in(v, b.In, d.equal) {
			all = append(all, Redrawn{v, nil})
		}
	}
	return all
}

// equal tells whether two single values say the same: numbers by what they are, however they are written, lengths of
// different units in millimetres within sameLength, names of features as they are now.
func (d *redrawing) equal(a, b *form.Value) bool {
	switch {
	case a.Numeric != b.Numeric:
		return false
	case !a.Numeric:
		return a.Text == b.Text && !a.Refers() || a.Refers() && d.reference(a.Text) == b.Text
	case a.Unit == b.Unit:
		return a.Number == b.Number
	}
	return math.Abs(a.MM()-b.MM()) <= sameLength*math.Max(1, math.Abs(a.MM()))
}

package form

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strconv"
	"strings"

	"corerod/parts"
	"corerod/parts/source"
)

// ShapeVersion begins every digest of a shape. It rises when the same drawing gives another digest.
const ShapeVersion = "shape1:"

// Drawn is one entry of a named section of a part file. By it the entry is found again in another version of the file,
// also under another name.
type Drawn struct {
	Section string // bodies, cuts, blends, edges, sides, marks or dimensions
	Name    string
	MadeBy  string   // pressing, machining or sizing
	Shape   string   // digest of its values by their names; names, made_by and what a mark reads are left out
	Of      []string // what it refers to: features, faces and numbers of features
}

// DrawnBy lists the named entries of a part's file, in its order; none once the file was let go of.
func DrawnBy(p *parts.Part) []Drawn {
	if p.Root == nil {
		return nil
	}
	return DrawnOf(Values(p.Root))
}

// DrawnOf lists the entries of the named sections of a file, in the order of the file.
func DrawnOf(root *Value) (all []Drawn) {
	for _, section := range sections {
		s := root.At(section)
		if s == nil {
			continue
		}
		for _, v := range s.In {
			d := Drawn{Section: section, Name: v.Key, MadeBy: "pressing"}
			if m := v.At("made_by"); m != nil {
				d.MadeBy = m.Text
			}
			d.Shape = digest(section + " " + d.content(v))
			all = append(all, d)
		}
	}
	return all
}

// ShapeOf is the digest of all that a file draws, with the names of its features.
func ShapeOf(all []Drawn) string {
	lines := make([]string, len(all))
	for i, d := range all {
		lines[i] = strings.Join(append([]string{d.Section, d.Name, d.MadeBy, d.Shape}, d.Of...), " ")
	}
	slices.Sort(lines)
	return digest(strings.Join(lines, "\n"))
}

// Digest is that of the entry with what it refers to.
func (d *Drawn) Digest() string { return digest(strings.Join(append([]string{d.Shape}, d.Of...), " ")) }

func digest(text string) string {
	h := sha256.Sum256([]byte(text))
	return ShapeVersion + hex.EncodeToString(h[:8])
}

// content writes what a value says in one way only: keys in order, lengths in mm, numbers to 9 digits. References go to d.Of.
func (d *Drawn) content(v *Value) string {
	var all []string
	switch {
	case v.Shape == source.Scalar && v.Numeric:
		return strconv.FormatFloat(v.MM()+0, 'g', 9, 64)
	case v.Shape == source.Scalar && v.Refers():
		d.Of = append(d.Of, v.Text)
		return "*"
	case v.Shape == source.Scalar:
		return strconv.Quote(v.Text)
	case v.Shape == source.Map:
		for _, in := range v.In {
			if c := d.content(in); !in.form.unsaid(c) {
				all = append(all, in.Key+": "+c)
			}
		}
		slices.Sort(all)
	default:
		for _, in := range v.In {
			all = append(all, d.content(in))
		}
	}
	return "{" + strings.Join(all, ", ") + "}"
}

// unsaid tells whether a digest leaves a value out: it does not shape what it belongs to, or it is what holds without it.
func (f *Form) unsaid(content string) bool {
	return f != nil && (f.Later || f.Default != "" && !f.Counts && strings.Trim(content, `"`) == inBraces.Replace(f.Default))
}

// inBraces turns a list as a file writes it into one as digests do.
var inBraces = strings.NewReplacer("[", "{", "]", "}")

// Renames finds the entries that have another name in a newer version of a file and are the same in all else, old names to
// new ones: of features, and of dimensions, whose names stand by themselves. Of several alike the first is taken.
func Renames(old, new []Drawn) (features, dimensions map[string]string) {
	features, dimensions = map[string]string{}, map[string]string{}
	for _, o := range old {
		if has(new, o.Section, o.Name) {
			continue
		}
		names := features
		if o.Section == "dimensions" {
			names = dimensions
		}
		for _, n := range new {
			if n.same(&o, features) && !has(old, n.Section, n.Name) && !taken(names, n.Name) {
				names[o.Name] = n.Name
				break
			}
		}
	}
	return features, dimensions
}

func has(all []Drawn, section, name string) bool {
	return slices.ContainsFunc(all, func(d Drawn) bool { return d.Section == section && d.Name == name })
}

func taken(names map[string]string, name string) bool {
	for _, n := range names {
		if n == name {
			return true
		}
	}
	return false
}

// same tells whether an entry says what an older one does, but for names.
func (d *Drawn) same(old *Drawn, renamed map[string]string) bool {
	return d.Section == old.Section && d.MadeBy == old.MadeBy && d.Like(old, renamed)
}

// Like tells whether an entry has the shape of an older one and refers to the same features, some of which were renamed.
func (d *Drawn) Like(old *Drawn, renamed map[string]string) bool {
	if d.Shape != old.Shape || len(d.Of) != len(old.Of) {
		return false
	}
	was := make([]string, len(old.Of))
	for i, text := range old.Of {
		was[i] = Reference(text, renamed)
	}
	return slices.Equal(slices.Sorted(slices.Values(was)), slices.Sorted(slices.Values(d.Of)))
}

// Swapped finds the names that stand for another shape than before, which an entry of another name had: such an entry is
// another one, whatever it is called.
func Swapped(old, new []Drawn, renamed map[string]string) map[string]bool {
	all := map[string]bool{}
	for i := range new {
		n := &new[i]
		if n.Section == "dimensions" {
			continue
		}
		other, same := false, false
		for k := range old {
			o := &old[k]
			switch {
			case o.Section != n.Section:
			case o.Name == n.Name:
				same = n.Like(o, renamed)
			case n.Like(o, renamed) && renamed[o.Name] != n.Name:
				other = other || has(old, n.Section, n.Name)
			}
		}
		if other && !same {
			all[n.Name] = true
		}
	}
	return all
}

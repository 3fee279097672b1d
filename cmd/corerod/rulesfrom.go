package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"corerod/checker"
	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/rules"
)

// rulesIn is a call that takes shop files, packs and concessions from another folder.
func (c *call) rulesIn(folder string, args []string, o packOptions) (*call, error) {
	if is, err := c.files.IsFolder(folder); err != nil || !is {
		return nil, wrong("--rules-from is %s, which is no folder", folder)
	}
	if o.shop != "" || o.noShop || len(o.packs) > 0 {
		return nil, wrong("--rules-from takes the shop file and the packs from %s; leave out --shop, --no-shop and --pack", folder)
	}
	there := c.through(c.viewOf(folder, args))
	there.inputs = &inputs{}
	return there, nil
}

// changedRules lists the shop files, packs and concessions that differ between here and the folder of the rules.
func (c *call) changedRules(there *call, files []checker.File, o packOptions) (all []string) {
	here := *c
	here.inputs = &inputs{}
	_, _ = here.forces(slices.Clone(files), o, nil, "") // what is wrong with them does not matter here: they do not hold
	for _, in := range slices.Concat(there.inputs.all, here.inputs.all) {
		if slices.Contains(all, in.name) {
			continue
		}
		a, errA := c.bytesOf(in.name)
		b, errB := there.bytesOf(in.name)
		if errA != nil || errB != nil || !bytes.Equal(a, b) || (a == nil) != (b == nil) {
			all = append(all, in.name)
		}
	}
	slices.Sort(all)
	c.inputs.all = slices.Concat(c.inputs.all, there.inputs.all, here.inputs.all)
	return all
}

// missingShops are problems of shop files in the folder of the rules: those that are gone or moved here, and that there are some
// and none holds for a part that is reviewed.
func (c *call) missingShops(there *call, files []checker.File, args []string) (ps source.Problems, err error) {
	all, err := there.shopsBelow(args)
	if err != nil {
		return nil, err
	}
	for _, shop := range all {
		if is, err := c.files.IsFolder(shop); err != nil || is {
			ps = append(ps, source.Problem{File: shop, Message: "this shop file holds where the rules come from, " +
				"and is gone or moved here. Move or delete a shop file in a change of its own, which a person merges; " +
				"where the branch moved it, merge the branch first"})
		}
	}
	holds := func(f checker.File) bool { return there.shopAbove(f.Name) != "" }
	if len(all) > 0 && len(files) > 0 && !slices.ContainsFunc(files, holds) {
		ps = append(ps, source.Problem{File: files[0].Name,
			Message: fmt.Sprintf("no shop file holds for what is reviewed, and there are some where the rules come from: %s",
				strings.Join(all, ", "))})
	}
	return ps, nil
}

// shopsBelow are the shop files above and below what the arguments name, in order.
func (c *call) shopsBelow(args []string) (all []string, err error) {
	add := func(shop string) {
		if shop != "" && !slices.Contains(all, shop) {
			all = append(all, shop)
		}
	}
	for _, arg := range append([]string{"."}, args...) {
		folder, err := c.files.IsFolder(arg)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			continue
		case err != nil:
			return nil, wrong("%s cannot be read: %v", arg, cause(err))
		case !folder:
			add(c.shopAbove(arg))
			continue
		}
		add(c.shopAbove(filepath.Join(arg, rules.ShopFile)))
		root, err := c.files.Root(arg)
		if err != nil {
			return nil, wrong("%s cannot be read: %v", arg, cause(err))
		}
		err = fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return wrong("%s cannot be read: %v", path.Join(filepath.ToSlash(arg), p), cause(err))
			case d.IsDir() && d.Name() == ".git":
				return fs.SkipDir
			case d.Name() == rules.ShopFile && !d.IsDir():
				add(c.shown(whole(filepath.Join(arg, filepath.FromSlash(p)))))
			}
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	slices.Sort(all)
	return all, nil
}

// movedAway are problems of parts that stood under another shop file than they do now.
func movedAway(r *checker.Review, by *forceFinder) (ps source.Problems, err error) {
	for _, p := range r.Parts {
		from := p.Moved()
		if from == "" {
			continue
		}
		before, err := by.of(from)
		if err != nil {
			return nil, err
		}
		if before != p.Force {
			ps = append(ps, source.Problem{File: p.File, Message: fmt.Sprintf("it was %s, where %s holds, and %s holds here. "+
				"Move a part to other rules in a change of its own, which a person merges", from, shopName(before), shopName(p.Force))})
		}
	}
	return ps, nil
}

// movedFrom are problems of new files with parts that stand under another shop file where the rules come from, and are there no
// more here.
func (c *call) movedFrom(there *call, files []checker.File, args []string) (ps source.Problems, err error) {
	type key struct{ part, drawing string }
	read := func(f checker.File) (k key, ok bool) {
		in, err := f.Open()
		if err != nil {
			return k, false
		}
		b, err := readBounded(in)
		if err != nil {
			return k, false
		}
		p, _ := form.Parse(f.Name, b)
		if p == nil {
			return k, false
		}
		return key{p.Name, p.Drawing}, true
	}
	here, came := map[string]bool{}, map[key]string{}
	for _, f := range files {
		here[f.Name] = true
		if _, err := there.files.IsFolder(f.Name); err == nil {
			continue
		}
		if k, ok := read(f); ok {
			came[k] = f.Name
		}
	}
	if len(came) == 0 {
		return nil, nil
	}
	old, err := there.gather(there.present(args), "", false)
	if err != nil {
		return nil, err
	}
	for _, f := range old.parts {
		k, ok := read(f)
		to := came[k]
		if !ok || to == "" || here[f.Name] || there.shopAbove(f.Name) == there.shopAbove(to) {
			continue
		}
		ps = append(ps,
			source.Problem{File: to, Message: fmt.Sprintf("it is %s where the rules come from, where %s holds, and %s holds here. "+
				"Move a part to other rules in a change of its own, which a person merges", f.Name, orNone(there.shopAbove(f.Name)),
				orNone(there.shopAbove(to)))})
	}
	return ps, nil
}

// present are the arguments that lead somewhere.
func (c *call) present(args []string) []string {
	return slices.DeleteFunc(slices.Clone(args), func(arg string) bool {
		_, err := c.files.IsFolder(arg)
		return err != nil
	})
}

func orNone(shop string) string {
	if shop == "" {
		return "no shop file"
	}
	return "the shop file " + shop
}

func shopName(f *checker.Force) string {
	if f == nil || f.Shop == nil {
		return orNone("")
	}
	return orNone(f.Shop.File)
}

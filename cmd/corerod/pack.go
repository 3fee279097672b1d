package main

import (
	"bytes"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"corerod/checker"
	"corerod/checker/prove"
	"corerod/checker/report"
	"corerod/checker/report/data"
	"corerod/parts/source"
	"corerod/rules"
)

func packCommand(c *call) *cobra.Command {
	cmd := &cobra.Command{
		Use:                   "pack",
		DisableFlagsInUseLine: true,
		Short:                 "Rule packs: show a pack's figures and rules, prove it by its trials, start one of your own",
		Args:                  unknownCommand,
		RunE:                  func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(showCommand(c), proveCommand(c), startPackCommand(c))
	return cmd
}

func showCommand(c *call) *cobra.Command {
	var to []string
	var name string
	cmd := &cobra.Command{
		Use:                   "show [RULE] [options]",
		DisableFlagsInUseLine: true,
		Short:                 "A pack's limits and rules with their sources, or one rule in full",
		Long: `Shows a pack: its limits, tables and materials with the pack, file and line that give each, and its rules by stage. With
a rule's name that rule in full: what it needs, the figures it reads and their ground, the reason in the die, what to
change, a trial that it finds and a near miss with their figures.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return wrong("name one rule, or none")
			}
			ts, err := targets(to, "text", "json")
			if err != nil {
				return err
			}
			return c.show(name, args, ts)
		},
	}
	f := cmd.Flags()
	f.StringVar(&name, "pack", standardPack, "a built-in pack, or the `PATH` of a pack's folder or file")
	f.StringArrayVar(&to, "to", nil, "write a `FORMAT=PATH`: text or json; - is standard output; repeatable")
	return cmd
}

func (c *call) show(name string, wanted []string, ts []target) error {
	pack, book, open, err := c.wholeBook(name)
	if err != nil {
		return err
	}
	entries := prove.Catalogue(pack, prove.Pack(pack, book, open, false))
	text := func(w io.Writer) error { return report.PackShow(w, pack) }
	if len(wanted) == 1 {
		i := slices.IndexFunc(entries, func(e prove.Entry) bool { return e.Rule.Name == wanted[0] })
		if i < 0 {
			var known []string
			for _, e := range entries {
				known = append(known, e.Rule.Name)
			}
			if folder := strings.ContainsAny(wanted[0], `/\`) || strings.HasSuffix(wanted[0], ".yaml"); folder || isBuiltin(wanted[0]) {
				return wrong("%s is no rule; a pack is named by --pack %s", source.Quote(wanted[0]), wanted[0])
			}
			return wrong("the pack %s has no rule %s%s", name, source.Quote(wanted[0]), meant(wanted[0], known, ""))
		}
		entries = entries[i : i+1]
		text = func(w io.Writer) error { return report.RuleShow(w, &entries[0]) }
	}
	return c.writeAll(ts, map[string]func(io.Writer) error{
		"text": text,
		"json": func(w io.Writer) error { return data.Pack(w, pack, entries) },
	})
}

func proveCommand(c *call) *cobra.Command {
	var shift bool
	cmd := &cobra.Command{
		Use:                   "prove [PACK] [options]",
		DisableFlagsInUseLine: true,
		Short:                 "Run a pack's own trials, and tell what they leave unproven",
		Long: `Runs every trial of a pack: a built-in one by its name (press-and-sinter unless one is named), or a pack's folder or
file. It is unproven, status 1, where a trial comes out otherwise than the pack says, where a rule has no trial that
finds something or no near miss, and where a condition in a rule was never seen both true and false. Of a trial that
comes out otherwise it shows what was measured.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return wrong("name one pack")
			}
			name := standardPack
			if len(args) == 1 {
				name = args[0]
			}
			return c.prove(name, shift)
		},
	}
	cmd.Flags().BoolVar(&shift, "shift", false, "also move each limit, row of a table and figure of a material that rules read by its "+
		"last digit both ways, and tell which no trial notices")
	return cmd
}

func (c *call) prove(name string, shift bool) error {
	pack, book, open, err := c.wholeBook(name)
	if err != nil {
		return err
	}
	p := prove.Pack(pack, book, open, shift)
	var b bytes.Buffer
	if err := report.Proof(&b, p); err != nil {
		return err
	}
	if err := c.put(target{"text", "-"}, &b); err != nil {
		return err
	}
	if len(p.Unproven) > 0 {
		return statusError(checker.Found)
	}
	return nil
}

// wholeBook loads a pack with its trials and all its rules, and a way to read the trials' parts.
func (c *call) wholeBook(name string) (*rules.Pack, *rules.Book, func(string) ([]byte, error), error) {
	pack, open, ps, err := c.wholePack(name)
	if err != nil {
		return nil, nil, nil, err
	}
	if len(ps) > 0 {
		return nil, nil, nil, c.unread(ps)
	}
	book, ps := rules.NewBook(pack)
	if len(ps) > 0 {
		return nil, nil, nil, c.unread(ps)
	}
	return pack, book, open, nil
}

// wholePack loads a pack with its trials, and a way to read their parts.
func (c *call) wholePack(name string) (*rules.Pack, func(string) ([]byte, error), source.Problems, error) {
	if isBuiltin(name) {
		p, ps := rules.LoadBuiltinWhole(name)
		return p, func(file string) ([]byte, error) { return rules.BuiltinFile(name, file) }, ps, nil
	}
	l := &loader{call: c, folder: "."}
	if shop := c.shopAbove(name); shop != "" {
		l.under = filepath.Dir(shop)
	}
	p, ps := l.load(rules.Base{Name: name})
	folder, _ := c.files.IsFolder(name)
	if !folder {
		name = filepath.Dir(name)
	}
	return p, func(file string) ([]byte, error) {
		root, err := c.files.Root(name)
		if err != nil {
			return nil, err
		}
		in, err := open(root, file)
		if err != nil {
			return nil, err
		}
		return readBounded(in)
	}, ps, l.err
}

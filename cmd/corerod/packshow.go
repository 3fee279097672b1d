package main

import (
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"corerod/checker/prove"
	"corerod/checker/report"
	"corerod/checker/report/data"
	"corerod/parts/source"
)

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

package main

import (
	"path/filepath"

	"github.com/spf13/cobra"

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

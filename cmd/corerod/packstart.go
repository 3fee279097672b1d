package main

import (
	"embed"
	"fmt"
	"path"
	"strings"

	"github.com/spf13/cobra"

	"corerod/parts/source"
	"corerod/rules"
)

// firstPack is a pack with its keys explained, and the part of its trials; NAME stands for the pack's name.
//
//go:embed packstart
var firstPack embed.FS

func startPackCommand(c *call) *cobra.Command {
	return &cobra.Command{
		Use:                   "start NAME",
		DisableFlagsInUseLine: true,
		Short:                 "Make a pack of your own that proves at once, to be changed into yours",
		Long: `Makes the folder NAME here with a pack that builds on the built-in rules, replaces one figure, adds one rule and proves
it by its trials; its keys are explained. A folder that is there stays.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return wrong("name the pack")
			}
			return c.startPack(args[0])
		},
	}
}

func (c *call) startPack(name string) error {
	switch {
	case !source.IsName(name):
		return wrong("%s is no name of a pack: a lower-case letter, then at most 63 lower-case letters, digits or hyphens",
			source.Quote(name))
	case isBuiltin(name):
		return wrong("%s is a built-in pack; give yours another name", name)
	}
	if _, err := c.files.IsFolder(name); err == nil {
		return wrong("%s is there already; it stays as it is", name)
	}
	for _, folder := range []string{name, path.Join(name, "trials")} {
		if err := c.files.MakeFolder(folder); err != nil {
			return wrong("the folder %s cannot be made: %v", folder, cause(err))
		}
	}
	for from, to := range map[string]string{"pack.yaml": "pack.yaml", "plate.yaml": "trials/plate.yaml"} {
		b, err := firstPack.ReadFile("packstart/" + from)
		if err != nil {
			return err
		}
		if err := c.put(target{"text", path.Join(name, to)}, strings.NewReader(strings.ReplaceAll(string(b), "NAME", name))); err != nil {
			return err
		}
	}
	_, err := fmt.Fprintf(c.Out,
		"%s is made. Prove it:  corerod pack prove %s\nPut it in force here with a file %s that says  packs: [%s]\n", name, name,
		rules.ShopFile, name)
	return err
}

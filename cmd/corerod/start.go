package main

import (
	"embed"
	"fmt"
	"path"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"corerod/parts/source"
)

// firstParts are part files with their keys explained, by kind; NAME stands for the part's name.
//
//go:embed start/*.yaml
var firstParts embed.FS

// usualFirst is the kind of a first part unless another is named.
const usualFirst = "flanged-bush"

// firstKinds are the kinds of first parts, in alphabetical order.
func firstKinds() (all []string) {
	files, err := firstParts.ReadDir("start")
	if err != nil {
		panic(err)
	}
	for _, f := range files {
		all = append(all, strings.TrimSuffix(f.Name(), ".yaml"))
	}
	return all
}

func startCommand(c *call) *cobra.Command {
	like := usualFirst
	cmd := &cobra.Command{
		Use:                   "start NAME",
		DisableFlagsInUseLine: true,
		Short:                 "Write a first part file, with its keys explained",
		Long: "Writes NAME.yaml here: a part that is clear, with its keys explained, to be changed into yours. " +
			"A file that is there stays.",
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return wrong("name the part")
			}
			return c.startPart(strings.TrimSuffix(args[0], ".yaml"), like)
		},
	}
	cmd.Flags().StringVar(&like, "like", usualFirst, "a first part of the `KIND`: "+strings.Join(firstKinds(), ", "))
	return cmd
}

func (c *call) startPart(name, like string) error {
	switch {
	case !source.IsPartName(name):
		return wrong("a part cannot be called %s: %s", source.Quote(name), source.PartNames)
	case !slices.Contains(firstKinds(), like):
		return wrong("--like is %s; it must be one of %s", source.Quote(like), strings.Join(firstKinds(), ", "))
	}
	file := name + ".yaml"
	if _, err := c.files.IsFolder(file); err == nil {
		return wrong("%s is there already; it stays as it is", file)
	}
	first, err := firstParts.ReadFile(path.Join("start", like+".yaml"))
	if err != nil {
		return err
	}
	if err := c.put(target{"text", file}, strings.NewReader(strings.ReplaceAll(string(first), "NAME", name))); err != nil {
		return err
	}
	_, err = fmt.Fprintf(c.Out, "%s is written. Judge it:  corerod review %s\n", file, file)
	return err
}

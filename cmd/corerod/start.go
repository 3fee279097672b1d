package main

import (
	_ "embed"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"corerod/parts/source"
)

// firstPart is a part file with its keys explained; NAME stands for the part's name.
//
//go:embed start.yaml
var firstPart string

func startCommand(c *call) *cobra.Command {
	return &cobra.Command{
		Use:                   "start NAME",
		DisableFlagsInUseLine: true,
		Short:                 "Write a first part file, with its keys explained",
		Long: "Writes NAME.yaml here: a part that is clear, with its keys explained, to be changed into yours. " +
			"A file that is there stays.",
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return wrong("name the part")
			}
			name := strings.TrimSuffix(args[0], ".yaml")
			if !source.IsPartName(name) {
				return wrong("%s is no name of a part: %s", source.Quote(args[0]), source.PartNames)
			}
			file := name + ".yaml"
			if _, err := c.files.IsFolder(file); err == nil {
				return wrong("%s is there already; it stays as it is", file)
			}
			if err := c.put(target{"text", file}, strings.NewReader(strings.ReplaceAll(firstPart, "NAME", name))); err != nil {
				return err
			}
			_, err := fmt.Fprintf(c.Out, "%s is written. Judge it:  corerod review %s\n", file, file)
			return err
		},
	}
}

package main

import (
	"bytes"
	"encoding/json"
	"slices"

	"github.com/spf13/cobra"

	"corerod/parts/form"
	"corerod/rules"
)

// schemas are the files that have one, with their titles.
var schemas = map[string]struct {
	title  string
	schema func(title string) map[string]any
}{
	"part": {"corerod part file", form.Schema},
	"pack": {"corerod rule pack, pack.yaml", func(title string) map[string]any { return rules.PackForm().Schema(title) }},
	"shop": {"corerod shop file, " + rules.ShopFile, func(title string) map[string]any { return rules.ShopForm().Schema(title) }},
}

func schemaCommand(c *call) *cobra.Command {
	return &cobra.Command{
		Use:                   "schema part|pack|shop",
		DisableFlagsInUseLine: true,
		Short:                 "JSON Schema of a part file, a pack or a shop file, for editors",
		Long: `Writes the JSON Schema (draft 2020-12) of a part file, a pack's main file or a shop file to standard output. Editors that
know JSON Schema complete keys by it, show what each is and mark what is wrong. It is made of what the readers know.`,
		RunE: func(_ *cobra.Command, args []string) error {
			known := []string{"part", "pack", "shop"}
			if len(args) != 1 || !slices.Contains(known, args[0]) {
				return wrong("name one of part, pack and shop")
			}
			b, err := schemaOf(args[0])
			if err != nil {
				return err
			}
			return c.put(target{"json", "-"}, bytes.NewReader(b))
		},
	}
}

// schemaOf is the JSON Schema of one kind of file.
func schemaOf(kind string) ([]byte, error) {
	s := schemas[kind]
	b, err := json.MarshalIndent(s.schema(s.title), "", "  ")
	return append(b, '\n'), err
}

package main

import (
	"io"

	"github.com/spf13/cobra"

	"corerod/checker/report"
	"corerod/checker/report/data"
)

func toolingCommand(c *call) *cobra.Command {
	var to []string
	var name string
	var o packOptions
	cmd := &cobra.Command{
		Use:                   "tooling PART [options]",
		DisableFlagsInUseLine: true,
		Short:                 "The layout of the tool: members, fill, force, density, ejection, die sizes, press",
		Long: `Lays out the tool for one part: die, upper and lower punches and core rods, each with its plan, fill, stroke, pressure
and force and the reason for it; the columns at fill and pressed, the density along the height, the force to eject, the
sizes of the tool, the press that serves. Every figure that it assumes is listed with its basis and where a shop puts
its own. The result goes to standard output as text, unless a --to names -.`,
		RunE: func(_ *cobra.Command, args []string) error {
			ts, err := targets(to, "text", "json")
			if err != nil {
				return err
			}
			d, by, err := c.derive(args, name, o)
			if err != nil {
				return err
			}
			return c.writeAll(ts, map[string]func(io.Writer) error{
				"text": func(w io.Writer) error { return report.Tooling(w, d, by.Book.Packs, by.Shop) },
				"json": func(w io.Writer) error { return data.Tooling(w, d, by.Book.Packs, by.Shop) },
			})
		},
	}
	f := cmd.Flags()
	f.StringArrayVar(&to, "to", nil, "write a `FORMAT=PATH`: text or json; - is standard output; repeatable")
	o.flags(f)
	f.StringVar(&name, "name", "standard input", "the `FILE` name to show for standard input")
	return cmd
}

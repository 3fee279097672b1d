package main

import (
	"github.com/spf13/cobra"

	"corerod/checker"
	"corerod/checker/concession"
	"corerod/checker/report/drawing"
)

func drawingCommand(c *call) *cobra.Command {
	var to, name string
	var packs packOptions
	var finished bool
	cmd := &cobra.Command{
		Use:                   "drawing PART [options]",
		DisableFlagsInUseLine: true,
		Short:                 "Draw the plan, sections and the tool as SVG",
		Long: `Draws one part as SVG, true to scale on A4: the plan from above, a section through its axis and what lies around it, a
section through the worst finding that this one misses, and the tool at fill and pressed. Numbered balloons stand where
the findings of a review lie. The drawing goes to standard output, unless --to names a file.`,
		RunE: func(_ *cobra.Command, args []string) error {
			file, by, err := c.onePart(args, name, packs)
			if err != nil {
				return err
			}
			r := checker.Run(c.ctx, []checker.File{file}, by.Book,
				checker.Options{Concede: by.Concede, Steps: []checker.Step{concession.Cover}})
			if err := c.faultsOf(r); err != nil {
				return err
			}
			if len(r.Unread) > 0 { // a rule that could not be judged too: its finding would be missed
				return c.unread(r.Unread)
			}
			out := outputs{{target: target{"svg", to}, files: c.files}}
			defer out.close()
			draw := drawing.Sheets
			if finished {
				draw = drawing.Finished
			}
			if err := draw(out[0], r.Parts[0]); err != nil {
				return err
			}
			return c.deliver(out)
		},
	}
	f := cmd.Flags()
	f.BoolVar(&finished, "finished", false, "draw the part after machining, sizing and grinding alone, without findings and tool")
	f.StringVar(&to, "to", "-", "write the SVG to `PATH`; - is standard output")
	packs.flags(f)
	f.StringVar(&name, "name", "standard input", "the `FILE` name to show for standard input")
	return cmd
}

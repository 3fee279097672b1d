package main

import (
	"bytes"
	"io"

	"github.com/spf13/cobra"

	"corerod/checker"
	"corerod/checker/report"
)

func measureCommand(c *call) *cobra.Command {
	var to []string
	var name string
	cmd := &cobra.Command{
		Use:                   "measure PART [options]",
		DisableFlagsInUseLine: true,
		Short:                 "Every subject and measure that rules can see, as JSON",
		Long: `Writes every subject of one part with its measures, by the names that rules use: lengths in mm, angles in degrees.
The table for people is not built yet: name --to json=PATH.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return wrong("name one part file, or - for standard input")
			}
			ts, err := targets(to, "json")
			if err != nil {
				return err
			}
			if len(ts) == 0 {
				return wrong("the table for people is not built yet; write --to json=- for JSON on standard output")
			}
			return c.measure(args[0], name, ts)
		},
	}
	cmd.Flags().StringArrayVar(&to, "to", nil, "write json=`PATH`; - is standard output; repeatable")
	cmd.Flags().StringVar(&name, "name", "standard input", "the `FILE` name to show for standard input")
	return cmd
}

func (c *call) measure(arg, stdin string, ts []target) error {
	f := checker.File{Name: stdin, Open: func() (io.ReadCloser, error) { return io.NopCloser(c.In), nil }}
	if arg != "-" {
		folder, err := c.files.IsFolder(arg)
		if err != nil {
			return wrong("%s cannot be read: %s", arg, cause(err))
		}
		if folder {
			return wrong("%s is a folder; name one part file", arg)
		}
		f = c.single(arg)
	}
	in, err := f.Open()
	if err != nil {
		return wrong("%s cannot be read: %s", f.Name, cause(err))
	}
	b, err := readBounded(in)
	if err != nil {
		return wrong("%s cannot be read: %s", f.Name, cause(err))
	}
	_, s, ps := checker.Read(f.Name, b)
	if len(ps) > 0 {
		var t bytes.Buffer
		if err := report.Text(&t, &checker.Review{Unread: ps}); err != nil {
			return err
		}
		if _, err := c.Err.Write(t.Bytes()); err != nil {
			return wrong("standard error cannot be written: %v", cause(err))
		}
		return statusError(checker.Wrong)
	}
	var j bytes.Buffer
	if err := report.Measures(&j, s); err != nil {
		return err
	}
	for _, t := range ts {
		if err := c.put(t, j.Bytes()); err != nil {
			return err
		}
	}
	return nil
}

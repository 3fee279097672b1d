package main

import (
	"io"

	"github.com/spf13/cobra"

	"corerod/checker"
	"corerod/checker/report/data"
)

func joinCommand(c *call) *cobra.Command {
	var to string
	cmd := &cobra.Command{
		Use:                   "join FILE... [options]",
		DisableFlagsInUseLine: true,
		Short:                 "Join the JSON of several lots to that of one review",
		Long: `Joins the JSON that reviews with --lot and --lots have written, all lots of one set, to exactly what one review of the whole
set writes. The status is that of the whole set.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return wrong("name the JSON of each lot")
			}
			var lots []data.Lot
			for _, name := range args {
				c.reads(name)
				in, err := c.files.Open(name)
				if err != nil {
					return wrong("%s cannot be read: %v", name, cause(err))
				}
				b, err := io.ReadAll(io.LimitReader(in, data.MostEarlier+1))
				in.Close()
				if err != nil {
					return wrong("%s cannot be read: %v", name, cause(err))
				}
				lots = append(lots, data.Lot{Name: name, JSON: b})
			}
			b, status, err := data.Join(lots)
			if err != nil {
				return wrong("%s", err)
			}
			out := &output{target: target{"json", to}, files: c.files}
			if _, err := out.Write(b); err != nil {
				return err
			}
			defer outputs{out}.close()
			if err := c.deliver(outputs{out}); err != nil {
				return err
			}
			if status != checker.Clear {
				return statusError(status)
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&to, "to", "-", "write the JSON to `PATH`; - is standard output")
	return cmd
}

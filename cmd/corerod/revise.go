package main

import (
	"bytes"
	"errors"
	"runtime"
	"slices"

	"github.com/spf13/cobra"

	"corerod/checker"
	"corerod/checker/change"
	"corerod/checker/concession"
	"corerod/checker/report"
	"corerod/parts/source"
)

func reviseCommand(c *call) *cobra.Command {
	var id, name string
	var write bool
	var packs packOptions
	cmd := &cobra.Command{
		Use:                   "revise PART [options]",
		DisableFlagsInUseLine: true,
		Short:                 "Make the checked changes in a part file",
		Long: `Chooses the best checked change of every stop and change of one part, makes them together, reviews the changed part,
and shows the difference of the part file. With --write it writes the file: only the values that change differ.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if write && slices.Contains(args, "-") {
				return wrong("standard input cannot be written; name a part file")
			}
			return c.revise(args, name, id, write, packs)
		},
	}
	f := cmd.Flags()
	f.StringVar(&id, "finding", "", "make the best change of the finding `ID` alone, as the JSON of a review has it")
	f.BoolVar(&write, "write", false, "write the part file")
	f.StringVar(&name, "name", "standard input", "the `FILE` name to show for standard input")
	packs.flags(f)
	return cmd
}

func (c *call) revise(args []string, name, id string, write bool, packs packOptions) error {
	file, by, err := c.onePart(args, name, packs)
	if err != nil {
		return err
	}
	o := checker.Options{Concede: by.Concede, Steps: []checker.Step{concession.Cover}, Workers: runtime.GOMAXPROCS(0)}
	r, ps, err := change.Revise(c.ctx, file, by.Book, id, o)
	switch {
	case err != nil:
		return wrong("%s; `corerod review %s --to json=-` gives the ids", err, source.Plain(file.Name))
	case len(ps) > 0:
		return c.unread(ps)
	}
	written := write && len(r.Chosen) > 0
	if written {
		if err := c.writeRevision(file, r); err != nil {
			return err
		}
	}
	var b bytes.Buffer
	if err := report.Revision(&b, r, written, by.Book.Packs, by.Shop); err != nil {
		return err
	}
	if err := c.put(target{"text", "-"}, &b); err != nil {
		return err
	}
	if r.Status != checker.Clear {
		return statusError(r.Status)
	}
	return nil
}

// writeRevision writes a part file, unless it has changed since it was read.
func (c *call) writeRevision(file checker.File, r *change.Revision) error {
	in, err := file.Open()
	if err != nil {
		return wrong("%s cannot be read again: %s", file.Name, cause(err))
	}
	now, err := readBounded(in)
	if err == nil && !bytes.Equal(now, r.Old) {
		err = errors.New("it has changed since it was read; nothing is written")
	}
	if err == nil {
		err = c.files.Write(file.Name, bytes.NewReader(r.New))
	}
	if err != nil {
		return wrong("%s cannot be written: %s", file.Name, cause(err))
	}
	return nil
}

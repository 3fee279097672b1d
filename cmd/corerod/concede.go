package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"corerod/checker"
	"corerod/parts/source"
)

func concedeCommand(c *call) *cobra.Command {
	var id, name string
	var a checker.Agreement
	var packs packOptions
	cmd := &cobra.Command{
		Use:                   "concede PART --finding ID --until DATE --reason TEXT --by ROLE",
		DisableFlagsInUseLine: true,
		Short:                 "Record that a finding is agreed to for a time",
		Long: `Adds a record for one finding of one part to the concessions that the shop file names, which is made where it is not there
yet. The finding stays in every report, marked, and does not count while it is no worse than now, the drawing's revision is
the same and the day has not passed.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if says := a.Wrong(c.now); says != "" {
				return wrong("%s", says)
			}
			return c.concede(args, name, id, a, packs)
		},
	}
	f := cmd.Flags()
	f.StringVar(&id, "finding", "", "the `ID` of the finding, as the JSON of a review has it")
	f.StringVar(&a.Until, "until", "", "the last `DATE`, such as 2027-03-31, within 24 months")
	f.StringVar(&a.Reason, "reason", "", "why, as `TEXT`")
	f.StringVar(&a.By, "by", "", "the `ROLE` that agreed")
	f.StringVar(&name, "name", "standard input", "the `FILE` name to show for standard input")
	packs.flags(f)
	return cmd
}

func (c *call) concede(args []string, name, id string, a checker.Agreement, packs packOptions) error {
	file, by, err := c.onePart(args, name, packs)
	if err != nil {
		return err
	}
	if by.concede == nil {
		return wrong("no shop file names the concessions of %s; a file corerod.yaml that says  concessions: concessions.yaml  does", file.Name)
	}
	r := checker.Run([]checker.File{file}, by.book, checker.Options{Concede: by.concede})
	if err := faultsOf(r); err != nil {
		return err
	}
	if len(r.Unread) > 0 {
		return c.unread(r.Unread)
	}
	p := r.Parts[0]
	i := slices.IndexFunc(p.Findings, func(f *checker.Finding) bool { return f.ID == id })
	if i < 0 {
		return wrong("%s has no finding %s; `corerod review %s --to json=-` gives the ids", file.Name, source.Quote(id), file.Name)
	}
	to := filepath.FromSlash(by.concede.File)
	b, err := c.bytesOf(to)
	if err != nil {
		return wrong("%s cannot be read: %v", by.concede.File, cause(err))
	}
	out, err := checker.Concede(by.concede.File, b, p, p.Findings[i], a)
	if err != nil {
		return wrong("%s", err)
	}
	if err := c.files.Write(to, bytes.NewReader(out)); err != nil {
		return wrong("%s cannot be written: %v", by.concede.File, cause(err))
	}
	_, err = fmt.Fprintf(c.Out, "Conceded until %s: %s, %s. The record stands in %s.\n", a.Until, p.Findings[i].Rule.Name,
		source.Plain(p.Findings[i].Subject.Place().Name), source.Plain(by.concede.File))
	return err
}

// bytesOf reads a file, nothing where it is not there yet.
func (c *call) bytesOf(name string) ([]byte, error) {
	in, err := c.files.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return readBounded(in)
}

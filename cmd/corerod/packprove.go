package main

import (
	"bytes"

	"github.com/spf13/cobra"

	"corerod/checker"
	"corerod/checker/prove"
	"corerod/checker/report"
	"corerod/rules"
)

func proveCommand(c *call) *cobra.Command {
	var shift bool
	cmd := &cobra.Command{
		Use:                   "prove [PACK] [options]",
		DisableFlagsInUseLine: true,
		Short:                 "Run a pack's own trials, and tell what they leave unproven",
		Long: `Runs every trial of a pack: a built-in one by its name (press-and-sinter unless one is named), or a pack's folder or
file. It is unproven, status 1, where a trial comes out otherwise than the pack says, where a rule has no trial that
finds something or no near miss, and where a condition in a rule was never seen both true and false. Of a trial that
comes out otherwise it shows what was measured.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return wrong("name one pack")
			}
			name := standardPack
			if len(args) == 1 {
				name = args[0]
			}
			return c.prove(name, shift)
		},
	}
	cmd.Flags().BoolVar(&shift, "shift", false, "also move each limit, row of a table and figure of a material that rules read by its "+
		"last digit both ways, and tell which no trial notices")
	return cmd
}

func (c *call) prove(name string, shift bool) error {
	pack, book, open, err := c.wholeBook(name)
	if err != nil {
		return err
	}
	p := prove.Pack(pack, book, open, shift)
	var b bytes.Buffer
	if err := report.Proof(&b, p); err != nil {
		return err
	}
	if err := c.put(target{"text", "-"}, &b); err != nil {
		return err
	}
	if len(p.Unproven) > 0 {
		return statusError(checker.Found)
	}
	return nil
}

// wholeBook loads a pack with its trials and all its rules, and a way to read the trials' parts.
func (c *call) wholeBook(name string) (*rules.Pack, *rules.Book, func(string) ([]byte, error), error) {
	pack, open, ps, err := c.wholePack(name)
	if err != nil {
		return nil, nil, nil, err
	}
	if len(ps) > 0 {
		return nil, nil, nil, c.unread(ps)
	}
	book, ps := rules.NewBook(pack)
	if len(ps) > 0 {
		return nil, nil, nil, c.unread(ps)
	}
	return pack, book, open, nil
}

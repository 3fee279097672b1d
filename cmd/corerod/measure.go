package main

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"corerod/checker"
	"corerod/checker/report"
	"corerod/checker/report/data"
	"corerod/parts/source"
	"corerod/parts/subject"
)

func measureCommand(c *call) *cobra.Command {
	var to, kinds []string
	var name string
	var finished bool
	var o packOptions
	cmd := &cobra.Command{
		Use:                   "measure PART [options]",
		DisableFlagsInUseLine: true,
		Short:                 "Every subject and measure that rules can see, with unit and place",
		Long: `Writes every subject of one part with its measures, by the names that rules use: lengths in mm, angles in degrees,
whatever the part is drawn in. The result goes to standard output as text, unless a --to names -.`,
		RunE: func(_ *cobra.Command, args []string) error {
			ts, err := targets(to, "text", "json")
			if err != nil {
				return err
			}
			wanted, err := kindsNamed(kinds)
			if err != nil {
				return err
			}
			if finished {
				wanted = append(wanted, subject.FinishedKind)
			}
			return c.measure(args, name, o, wanted, ts)
		},
	}
	f := cmd.Flags()
	f.StringArrayVar(&to, "to", nil, "write a `FORMAT=PATH`: text or json; - is standard output; repeatable")
	f.StringSliceVar(&kinds, "subjects", nil, "show the `KINDS` of subjects alone, such as wall,hole; JSON has all")
	f.BoolVar(&finished, "finished", false, "show the figures of the finished part alone: after machining, sizing and grinding")
	o.flags(f)
	f.StringVar(&name, "name", "standard input", "the `FILE` name to show for standard input")
	return cmd
}

// kindsNamed looks up kinds of subjects by their name or list.
func kindsNamed(names []string) (kinds []*subject.Kind, err error) {
	var known []string
	for _, k := range subject.Kinds() {
		known = append(known, k.Name)
	}
	for _, n := range names {
		i := slices.IndexFunc(subject.Kinds(), func(k *subject.Kind) bool { return k.Name == n || k.List == n })
		if i < 0 {
			return nil, wrong("--subjects has %s, which is no kind of subject%s", source.Quote(n), meant(n, known, ""))
		}
		kinds = append(kinds, subject.Kinds()[i])
	}
	return kinds, nil
}

func (c *call) measure(args []string, stdin string, o packOptions, kinds []*subject.Kind, ts []target) error {
	d, by, err := c.derive(args, stdin, o)
	if err != nil {
		return err
	}
	if len(d.Subject.Finished) == 0 && slices.Contains(kinds, subject.FinishedKind) {
		d.Subject.Finished = []*subject.Finished{d.Subject.AsPressed()}
	}
	return c.writeAll(ts, map[string]func(io.Writer) error{
		"text": func(w io.Writer) error { return report.Table(w, d.Subject, kinds, by.Book.Packs, by.Shop) },
		"json": func(w io.Writer) error { return data.Measures(w, d.Subject, by.Book.Packs, by.Shop) },
	})
}

// derive reads the one part that a command names, by the packs in force. Problems are shown before it returns.
func (c *call) derive(args []string, stdin string, o packOptions) (*checker.Derived, *checker.Force, error) {
	f, by, err := c.onePart(args, stdin, o)
	if err != nil {
		return nil, nil, err
	}
	in, err := f.Open()
	if err != nil {
		return nil, nil, wrong("%s cannot be read: %s", f.Name, cause(err))
	}
	b, err := readBounded(in)
	if err != nil {
		return nil, nil, wrong("%s cannot be read: %s", f.Name, cause(err))
	}
	d, ps := checker.Read(f.Name, b, by.Book)
	if len(ps) > 0 {
		return nil, nil, c.unread(ps)
	}
	return d, by, nil
}

// onePart finds the one part that a command names, and what is in force for it. Problems are shown before it returns.
func (c *call) onePart(args []string, stdin string, o packOptions) (f checker.File, by *checker.Force, err error) {
	if len(args) != 1 {
		return f, nil, wrong("name one part file, or - for standard input")
	}
	f = c.standardInput(stdin)
	if arg := args[0]; arg != "-" {
		folder, err := c.files.IsFolder(arg)
		if err != nil {
			return f, nil, wrong("%s cannot be read: %s", arg, cause(err))
		}
		if folder {
			return f, nil, wrong("%s is a folder; name one part file", arg)
		}
		f = c.single(arg)
	}
	by, unread, err := c.inForce(f, o)
	if err == nil && len(unread) > 0 {
		err = c.unread(unread)
	}
	return f, by, err
}

// faultsOf are the faults of corerod itself in a review, or that it was interrupted.
func (c *call) faultsOf(r *checker.Review) error {
	if err := c.ctx.Err(); err != nil {
		return err
	}
	if len(r.Faults) == 0 {
		return nil
	}
	return fmt.Errorf("a fault of its own, please report it with the part files: %s", strings.Join(r.Faults, "; "))
}

// unread shows problems on standard error.
func (c *call) unread(ps source.Problems) error {
	return c.unreviewed(&checker.Review{Unread: ps, Status: checker.Wrong})
}

// unreviewed tells on standard error why a review has no part.
func (c *call) unreviewed(r *checker.Review) error {
	var t bytes.Buffer
	if err := report.Text(&t, r); err != nil {
		return err
	}
	if _, err := c.Err.Write(t.Bytes()); err != nil {
		return wrong("standard error cannot be written: %v", cause(err))
	}
	return statusError(r.Status)
}

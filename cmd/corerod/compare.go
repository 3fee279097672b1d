package main

import (
	"bytes"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"corerod/checker"
	"corerod/checker/compare"
	"corerod/checker/report"
	"corerod/checker/report/data"
	"corerod/checker/report/words"
	"corerod/parts/source"
)

func compareCommand(c *call) *cobra.Command {
	var to []string
	var name string
	var o packOptions
	cmd := &cobra.Command{
		Use:                   "compare OLD NEW [options]",
		DisableFlagsInUseLine: true,
		Short:                 "What a revision of a part changes: drawing, measures, findings, tool",
		Long: `Reviews two revisions of a part, files or one of them on standard input (-), by the packs in force for NEW, and tells
what differs: findings gained, worsened, eased and cleared; features and dimensions added, removed and changed; mass,
force, class and tool members before and after; measures that moved. The result goes to standard output as text, unless
a --to names -.

Exit status: 0 no finding is gained or worsened, 1 some are, 2 an invalid command line, part, pack or shop file, 4 a fault of
corerod itself.`,
		RunE: func(_ *cobra.Command, args []string) error {
			ts, err := targets(to, "text", "json", "markdown")
			if err != nil {
				return err
			}
			return c.compare(args, name, o, ts)
		},
	}
	f := cmd.Flags()
	f.StringArrayVar(&to, "to", nil, "write a `FORMAT=PATH`: text, json or markdown; - is standard output; repeatable")
	o.flags(f)
	f.StringVar(&name, "name", "standard input", "the `FILE` name to show for standard input")
	return cmd
}

// revision is one of two files to compare, as it was read.
type revision struct {
	checker.File
	bytes []byte
	root  *source.Node // nil where nothing could be made of the bytes
}

func (c *call) compare(args []string, stdin string, o packOptions, ts []target) error {
	switch {
	case len(args) != 2:
		return wrong("name two part files, OLD and NEW; one of them may be - for standard input")
	case args[0] == "-" && args[1] == "-":
		return wrong("OLD and NEW are both standard input; name a file for one of them")
	}
	old, unread := c.revision(args[0], stdin)
	new, more := c.revision(args[1], stdin)
	if unread = append(unread, more...); len(unread) > 0 {
		return c.unread(unread.Sorted())
	}
	by, unused, err := c.forceOf(args, old, new, o)
	if err != nil {
		return err
	}
	trace := c.logger()
	r := checker.Run(c.ctx, []checker.File{old.File, new.File}, by.Book,
		checker.Options{Account: true, Workers: 1, Trace: func(step, file string) { trace.Trace(step, "file", file) }})
	if err := c.faultsOf(r); err != nil {
		return err
	}
	if len(r.Unread) > 0 {
		return c.unread(r.Unread)
	}
	for _, f := range []*revision{old, new} {
		f.root, _ = source.Parse(f.Name, f.bytes)
	}
	compared := compare.Revisions(r.Parts[0], r.Parts[1], old.root, new.root)
	in := words.InForce{Packs: by.Book.Packs, Shop: by.Shop, Unused: unused}
	if err := c.writeAll(ts, map[string]func(io.Writer) error{
		"text":     func(w io.Writer) error { return report.Compare(w, compared, in) },
		"json":     func(w io.Writer) error { return data.Compare(w, compared, in) },
		"markdown": func(w io.Writer) error { return report.CompareMarkdown(w, compared, in) },
	}); err != nil {
		return err
	}
	if compared.Status != checker.Clear {
		return statusError(compared.Status)
	}
	return nil
}

// revision reads a file, or standard input.
func (c *call) revision(arg, stdin string) (*revision, source.Problems) {
	r := &revision{File: checker.File{Name: stdin}}
	in := io.NopCloser(c.In)
	if arg != "-" {
		r.File = c.single(arg)
		folder, err := c.files.IsFolder(arg)
		if err == nil && folder {
			return nil, source.Problems{{File: r.Name, Message: "is a folder; name one part file"}}
		}
		if err == nil {
			in, err = r.Open()
		}
		if err != nil {
			return nil, source.Problems{{File: r.Name, Message: fmt.Sprintf("cannot be read: %v", cause(err))}}
		}
	}
	var err error
	if r.bytes, err = readBounded(in); err != nil {
		return nil, source.Problems{{File: r.Name, Message: fmt.Sprintf("cannot be read: %v", cause(err))}}
	}
	r.Open = func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(r.bytes)), nil }
	return r, nil
}

// forceOf finds what both revisions are judged by: what is in force for NEW, or for OLD where NEW is standard input.
// unused is the shop file that OLD alone lies under. Two files under different shop files are refused: neither speaks for
// both.
func (c *call) forceOf(args []string, old, new *revision, o packOptions) (by *checker.Force, unused string, err error) {
	lead := new.File
	switch {
	case args[1] == "-":
		lead = old.File
	case args[0] != "-" && !o.noShop && o.shop == "":
		before, now := c.shopAbove(old.Name), c.shopAbove(new.Name)
		if before != now && before != "" && now != "" {
			return nil, "", wrong("%s is judged by %s and %s by %s; name one shop file for both with --shop, or none with --no-shop",
				old.Name, before, new.Name, now)
		}
		if now == "" {
			unused = before
		}
	}
	by, unread, err := c.inForce(lead, o)
	if err == nil && len(unread) > 0 {
		err = c.unread(unread)
	}
	return by, unused, err
}

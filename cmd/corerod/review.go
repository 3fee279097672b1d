package main

import (
	"cmp"
	"slices"
	"sync"

	"github.com/hashicorp/go-hclog"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"corerod/checker"
	"corerod/checker/change"
	"corerod/checker/compare"
	"corerod/checker/concession"
	"corerod/checker/report"
	"corerod/checker/report/data"
	"corerod/rules"
)

func reviewCommand(c *call) *cobra.Command {
	var to, only []string
	var statusAt, name, color string
	var account bool
	var changes int
	var packs packOptions
	var since sinceOptions
	cmd := &cobra.Command{
		Use:                   "review PART... [options]",
		DisableFlagsInUseLine: true,
		Short:                 "Judge parts by the packs in force",
		Long: `Judges part files, the part files of folders, or one part on standard input (-), by the packs in force. The result
goes to standard output as text, unless a --to names -.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return wrong("name a part file, a folder, or - for standard input")
			}
			grade, ok := rules.ParseGrade(statusAt)
			if !ok && statusAt != "" {
				return wrong("--status-at is %q; it must be stop, change or ask%s", statusAt,
					meant(statusAt, []string{"stop", "change", "ask"}, ""))
			}
			if changes < 0 && cmd.Flags().Changed("changes") {
				return wrong("--changes is %d; it must be 0 or more", changes)
			}
			ts, err := targets(to, "text", "json", "markdown", "sarif", "html", "svg")
			if err != nil {
				return err
			}
			if c.colour, err = c.coloured(color); err != nil {
				return err
			}
			o := checker.Options{StatusAt: grade, Account: account}
			return c.review(args, name, packs, only, since, ts, change.Options{Options: o, Changes: changes})
		},
	}
	f := cmd.Flags()
	f.StringArrayVar(&to, "to", nil, "write a `FORMAT=PATH`: text, json, markdown, sarif, html or svg (of several parts the last two "+
		"name a folder); - is standard output; repeatable")
	packs.flags(f)
	since.flags(f)
	f.StringArrayVar(&only, "rule", nil, "judge by the rule `NAME` alone; repeatable")
	f.BoolVar(&account, "account", false, "tell of every rule whether it applied to each part, and why not")
	f.IntVar(&changes, "changes", -1, "show at most `N` checked changes for each finding; 0 seeks none; 3 for one part, "+
		"0 for several unless given")
	f.Lookup("changes").DefValue = "0" // not shown: it depends on the parts
	f.StringVar(&statusAt, "status-at", "", "the `GRADE` from which findings set status 1: stop, change or ask; "+
		"change unless the shop file says another")
	f.StringVar(&color, "color", "auto", "colour of the grades in text on standard output, `WHEN`: auto, always or never")
	f.StringVar(&name, "name", "standard input", "the `FILE` name to show for standard input")
	return cmd
}

func (c *call) review(args []string, stdin string, packs packOptions, only []string, since sinceOptions, ts []target,
	o change.Options) error {
	if err := since.check(); err != nil {
		return err
	}
	found, err := c.gather(args, stdin, since.earlier != "")
	if err != nil {
		return err
	}
	named := slices.Clone(args)
	for i := range named {
		if named[i] == "-" {
			named[i] = stdin
		}
	}
	by, notInForce, err := c.rules(found.parts, named, packs, only, since, o.StatusAt)
	if err != nil {
		return err
	}
	var all []string
	for _, p := range found.parts {
		all = append(all, p.Name)
	}
	if o.Changes < 0 {
		o.Changes = usualChanges(len(all))
	}
	if since.lots > 0 {
		found.parts = share(found.parts, since.lot, since.lots)
	}
	r := &checker.Review{Head: checker.Head{Forces: by.all, NotInForce: notInForce, Lot: since.lot, Lots: since.lots, Only: only},
		Unread: by.ps, Status: checker.Wrong, PassedOver: found.passedOver()}
	if len(r.Forces) == 0 { // none can be read
		r.Forces = []*checker.Force{{Book: &rules.Book{}, StatusAt: cmp.Or(o.StatusAt, rules.Change)}}
	}
	out := c.outputs(ts)
	defer out.close()
	streams, err := c.streams(out, r, all)
	if err != nil {
		return err
	}
	if len(r.Unread) == 0 {
		o.Margins = slices.ContainsFunc(out, func(t *output) bool { return t.format == "text" || t.format == "html" })
		o.Slim = len(all) > 1 && !slices.ContainsFunc(ts, func(t target) bool { return slices.Contains(pictured, t.format) })
		if since.earlier == "" { // which all parts are compared with at once
			o.Each = streams.Part
			c.run(r, found, by, o)
		} else if err := c.runSince(r, found, by, since, named, o); err != nil {
			return err
		}
	}
	return c.report(r, out, streams)
}

// rules finds what holds for the parts, and what does not though the tree has it.
func (c *call) rules(files []checker.File, args []string, packs packOptions, only []string, since sinceOptions,
	statusAt rules.Grade) (by *forceFinder, notInForce []string, err error) {
	from := c
	if since.rulesFrom != "" {
		if from, err = c.rulesIn(since.rulesFrom, args, packs); err != nil {
			return nil, nil, err
		}
	}
	if by, err = from.forces(files, packs, only, statusAt); err != nil {
		return nil, nil, err
	}
	doubles(by.all, files)
	if since.rulesFrom == "" {
		return by, nil, nil
	}
	notInForce = c.changedRules(from, files, packs)
	missing, err := c.missingShops(from, files, args)
	if err != nil {
		return nil, nil, err
	}
	by.ps = append(by.ps, missing...)
	if since.earlier == "" { // else it is told by the parts that are found again
		moved, err := c.movedFrom(from, files, args)
		if err != nil {
			return nil, nil, err
		}
		by.ps = append(by.ps, moved...)
	}
	by.ps = by.ps.Sorted()
	return by, notInForce, nil
}

// report writes what is left of the reports, and ends with the status.
func (c *call) report(r *checker.Review, out outputs, streams report.Streams) error {
	if err := c.ctx.Err(); err != nil {
		return err // what was reviewed so far is no result
	}
	writeParts(streams, r.Parts)
	if err := streams.End(r); err != nil {
		return err
	}
	if err := c.deliver(out); err != nil {
		return err
	}
	if r.Reviewed() == 0 && len(out) == 1 && out[0].format == "svg" { // a drawing alone, of nothing
		return c.unreviewed(r)
	}
	if r.Status != checker.Clear {
		return statusError(r.Status)
	}
	return nil
}

// writeParts writes parts to each report, to several at once: each has an output of its own. Pictures are drawn one after the other,
// since drawing looks at the shapes again.
func writeParts(streams report.Streams, all []*checker.PartReview) {
	var wait sync.WaitGroup
	faults := make(chan any, len(streams))
	for _, s := range streams {
		write := func() {
			for _, p := range all {
				s.Part(p)
			}
		}
		if _, drawn := s.(*pictures); drawn {
			write()
			continue
		}
		wait.Go(func() {
			defer func() {
				if r := recover(); r != nil {
					faults <- r
				}
			}()
			write()
		})
	}
	wait.Wait()
	if len(faults) > 0 {
		panic(<-faults) // a fault of our own, told as any other
	}
}

// runSince reviews the parts and compares them with an earlier review.
func (c *call) runSince(r *checker.Review, found *found, by *forceFinder, since sinceOptions, args []string, o change.Options) error {
	folder, err := c.files.IsFolder(since.earlier)
	if err != nil {
		return wrong("the earlier review %s cannot be read: %v", since.earlier, cause(err))
	}
	var e *compare.Earlier
	if folder {
		files, err := c.earlierIn(since.earlier, args, found.parts)
		if err != nil {
			return err
		}
		o.Whole = files.changed
		c.run(r, found, by, o)
		if e, err = files.review(r, by); err != nil {
			return err
		}
	} else {
		if e, err = c.earlierJSON(since.earlier, args, r.Only); err != nil {
			return err
		}
		o.Whole = redrawn(e)
		c.run(r, found, by, o)
	}
	if len(by.ps) > 0 {
		r.Unread = append(r.Unread, by.ps...).Sorted()
	}
	r.Forces = by.all
	r.Unread = append(r.Unread, found.unreviewedIn(e)...)
	compare.WithEarlier(r, e)
	concession.Follow(r)
	if since.rulesFrom == "" {
		return nil
	}
	moved, err := movedAway(r, by)
	r.Refuse(moved)
	return err
}

// run reviews the parts that were found, by what holds for each.
func (c *call) run(r *checker.Review, found *found, by *forceFinder, o change.Options) {
	o.Steps = []checker.Step{concession.Cover}
	o.Against = func(f *checker.Force) *rules.Book { return by.books[f] }
	trace := c.logger()
	for _, other := range found.other {
		trace.Trace("passed over, no part key", "file", other)
	}
	var mu sync.Mutex
	o.Trace = func(step, file string) {
		mu.Lock()
		defer mu.Unlock()
		trace.Trace(step, "file", file)
	}
	far := c.progress(len(found.parts))
	o.Progress = far.tell
	head := r.Head
	*r = *change.Run(c.ctx, found.parts, nil, o)
	far.end()
	r.Head, r.PassedOver = head, found.passedOver()
}

// doubles tells concessions which parts have the name, drawing and revision of another: a record without a file is for none of
// them. Only files that may have a part of a record are read.
func doubles(forces []*checker.Force, files []checker.File) {
	for _, f := range forces {
		if f.Concede == nil || !concession.NeedsDoubled(f.Concede) {
			continue
		}
		f.Concede.Doubled = concession.Doubled(files, concession.Parts(f.Concede))
	}
}

// streams write the reports of a review.
func (c *call) streams(out outputs, r *checker.Review, files []string) (all report.Streams, err error) {
	for _, o := range out {
		var s report.Stream
		switch o.format {
		case "text":
			s = report.NewText(o, c.colour && o.path == "-")
		case "json":
			s = data.NewJSON(o, r)
		case "sarif":
			s = data.NewSARIF(o, r)
		case "markdown":
			s = report.NewMarkdown(o)
		default:
			if s, err = newPictures(o, r, files); err != nil {
				return nil, err
			}
		}
		all = append(all, s)
	}
	return all, nil
}

// usualChanges is how many changes are sought for each finding where the call does not say.
func usualChanges(parts int) int {
	if parts == 1 {
		return 3
	}
	return 0
}

// logger shows the run's steps on standard error under --trace, without the time: the same run gives the same lines.
func (c *call) logger() hclog.Logger {
	level := hclog.Off
	if c.trace {
		level = hclog.Trace
	}
	return hclog.New(&hclog.LoggerOptions{Name: "corerod", Level: level, Output: c.Err, DisableTime: true})
}

func optionNames(cmd *cobra.Command) (names []string) {
	cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	return names
}

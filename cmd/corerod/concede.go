package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"corerod/checker"
	"corerod/checker/concession"
	"corerod/parts/source"
)

func concedeCommand(c *call) *cobra.Command {
	var o concedeOptions
	cmd := &cobra.Command{
		Use:                   "concede PART --finding ID --until DATE --reason TEXT --by ROLE",
		DisableFlagsInUseLine: true,
		Short:                 "Record that a finding is agreed to for a time",
		Long: `Adds a record for one finding of one part to the concessions that the shop file names, and makes that file if there is none.
The finding stays in every report, marked. It does not count while it is no worse than now, the drawing's revision is the
same and the day has not passed.

With --gone FILE the record says that a later change may take the part out, and with --machined FEATURE that the feature
may be made by machining or sizing, where most rules pass over it. Merge such a record before the change that needs it.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if err := o.check(args); err != nil {
				return err
			}
			if says := o.Wrong(c.now); says != "" {
				return wrong("%s", says)
			}
			if o.gone != "" {
				args = []string{o.gone}
			}
			return c.concede(args, o)
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.id, "finding", "", "the `ID` of the finding, as the JSON of a review has it")
	f.StringVar(&o.gone, "gone", "", "the part `FILE` that a later change may take out")
	f.StringVar(&o.machined, "machined", "", "the `FEATURE` of the part that may be made by machining or sizing")
	f.StringVar(&o.Until, "until", "", "the last `DATE`, such as 2027-03-31, within 24 months")
	f.StringVar(&o.Reason, "reason", "", "why, as `TEXT`")
	f.StringVar(&o.By, "by", "", "the `ROLE` that agreed")
	f.StringVar(&o.name, "name", "standard input", "the `FILE` name to show for standard input")
	o.flags(f)
	return cmd
}

// concedeOptions say what is agreed to.
type concedeOptions struct {
	packOptions
	concession.Agreement
	id, gone, machined, name string
}

// check refuses options that do not go together.
func (o *concedeOptions) check(args []string) error {
	given := 0
	for _, x := range []string{o.id, o.gone, o.machined} {
		if x != "" {
			given++
		}
	}
	switch {
	case given != 1:
		return wrong("give one of --finding ID, --gone FILE and --machined FEATURE")
	case o.gone != "" && len(args) > 0:
		return wrong("--gone names the part file; leave out %s", args[0])
	}
	return nil
}

func (c *call) concede(args []string, o concedeOptions) (err error) {
	file, by, err := c.onePart(args, o.name, o.packOptions)
	if err != nil {
		return err
	}
	if by.Concede == nil {
		return wrong("no shop file names the concessions of %s. Write  concessions: concessions.yaml  into the shop file corerod.yaml",
			file.Name)
	}
	to := filepath.FromSlash(by.Concede.File)
	unlock, err := c.lock(to + ".lock")
	if err != nil {
		return err
	}
	defer func() {
		if e := unlock(); err == nil && e != nil {
			err = wrong("the lock %s cannot be removed: %v", to+".lock", cause(e))
		}
	}()
	book := by.Book
	by, unread, err := c.load(by.Shop, o.packOptions) // what others wrote before the lock was ours
	if err == nil && len(unread) > 0 {
		err = c.unread(unread)
	}
	if err != nil {
		return err
	}
	by.Book = book
	r := checker.Run(c.ctx, []checker.File{file}, book, checker.Options{Concede: by.Concede, Steps: []checker.Step{concession.Cover}})
	if err := c.faultsOf(r); err != nil {
		return err
	}
	if len(r.Unread) > 0 {
		return c.unread(r.Unread)
	}
	b, err := c.bytesOf(to)
	if err != nil {
		return wrong("%s cannot be read: %v", by.Concede.File, cause(err))
	}
	out, what, err := o.record(by.Concede, b, r.Parts[0])
	if err != nil {
		return wrong("%s", err)
	}
	if err := c.files.Write(to, bytes.NewReader(out)); err != nil {
		return wrong("%s cannot be written: %v", by.Concede.File, cause(err))
	}
	_, err = fmt.Fprintf(c.Out, "Conceded until %s: %s. The record is in %s.\n", o.Until, what, source.Plain(by.Concede.File))
	return err
}

// record adds the record to the bytes of the concessions, and says what it is for.
func (o *concedeOptions) record(all *checker.Concessions, b []byte, p *checker.PartReview) (out []byte, what string, err error) {
	switch {
	case o.gone != "":
		out, err = concession.AddGone(all, b, p, o.Agreement)
		return out, "the part " + p.Part.Name + " may go", err
	case o.machined != "":
		out, err = concession.AddMachined(all, b, p, o.machined, o.Agreement)
		return out, source.Plain(o.machined) + " of " + p.Part.Name + " may be made after pressing", err
	}
	i := slices.IndexFunc(p.Findings, func(f *checker.Finding) bool { return f.ID == o.id })
	if i < 0 {
		return nil, "", fmt.Errorf("%s has no finding %s; `corerod review %s --to json=-` gives the ids", p.File,
			source.Quote(o.id), p.File)
	}
	f := p.Findings[i]
	out, err = concession.Add(all, b, p, f, o.Agreement)
	return out, f.Rule.Name + ", " + source.Plain(f.Subject.Place().Name), err
}

// How long a lock is waited for, and how often it is looked at.
const (
	lockWait = 30 * time.Second
	lockLook = 20 * time.Millisecond
)

// lock makes a lock file, and waits for one that another process has. It is never broken: a process that died leaves it to a
// person.
func (c *call) lock(name string) (unlock func() error, err error) {
	host, err := os.Hostname()
	if err != nil {
		host = "this machine"
	}
	content := fmt.Sprintf("host %s, process %d, since %s\n", host, os.Getpid(), c.now.UTC().Format(time.RFC3339))
	for waited := time.Duration(0); ; waited += lockLook {
		unlock, err := c.files.Lock(name, content)
		switch {
		case err == nil:
			return unlock, nil
		case !errors.Is(err, fs.ErrExist):
			return nil, wrong("the lock %s cannot be made: %v", name, cause(err))
		case waited >= lockWait:
			return nil, wrong("the lock %s is held: %s. Delete it if no corerod is at work there", name, c.ownerOf(name))
		}
		select {
		case <-c.ctx.Done():
			return nil, c.ctx.Err()
		case <-time.After(lockLook):
		}
	}
}

// ownerOf is who made a lock, as a lock says it: nothing else that may be behind the name is shown.
func (c *call) ownerOf(name string) string {
	b, err := c.bytesOf(name)
	text := strings.TrimSpace(string(b))
	if err != nil || !regexp.MustCompile(`^host [A-Za-z0-9._-]+, process [0-9]+, since [0-9TZ:-]+$`).MatchString(text) {
		return "its owner is not known"
	}
	return text
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

package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"corerod/checker"
	"corerod/checker/report/data"
	"corerod/parts/source"
)

// Streams are a command's standard streams, and whether what is written to them is shown on a terminal.
type Streams struct {
	In                       io.Reader
	Out, Err                 io.Writer
	OutTerminal, ErrTerminal bool
}

// call is everything a command works with.
type call struct {
	Streams
	ctx    context.Context // of the whole run
	files  Files
	env    func(string) string
	now    time.Time
	trace  bool
	colour bool    // of text on standard output
	inputs *inputs // parts, shop files, packs, concessions and earlier reviews that were read
}

// wrongCall is a mistake in the call: status 2.
type wrongCall struct{ error }

func (w wrongCall) Unwrap() error { return w.error }

func wrong(format string, args ...any) error { return wrongCall{fmt.Errorf(format, args...)} }

// interrupted is the status of a command whose context has ended.
const interrupted = 130

// statusError carries a status out of a command that has said all there is to say.
type statusError checker.Status

func (s statusError) Error() string { return fmt.Sprintf("status %d", int(s)) }

// Run runs the command with the given arguments and returns its exit status. Everything it touches is passed in:
// streams, environment, files and the present moment.
func Run(ctx context.Context, args []string, streams Streams, env func(string) string, files Files, now time.Time) (status int) {
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintf(streams.Err, "corerod: a fault of its own, please report it: %v\n", r)
			status = int(checker.OurFault)
		}
	}()
	out := &watched{Writer: streams.Out}
	streams.Out = out
	c := &call{Streams: streams, ctx: ctx, files: files, env: env, now: now, inputs: &inputs{}}
	root := newRoot(c)
	if len(args) > 0 && strings.HasPrefix(args[0], "__") { // the library's own commands
		args = append([]string{"--", args[0]}, args[1:]...)
	}
	root.SetArgs(args)
	root.SetIn(streams.In)
	root.SetOut(streams.Out)
	root.SetErr(streams.Err)
	err := root.ExecuteContext(ctx)
	if out.err != nil {
		err = out.err
	}
	var s statusError
	var w wrongCall
	switch {
	case err == nil && ctx.Err() == nil:
		return int(checker.Clear)
	case errors.As(err, &s) && ctx.Err() == nil:
		return int(s)
	case ctx.Err() != nil:
		fmt.Fprintln(streams.Err, "corerod: interrupted")
		return interrupted
	case errors.As(err, &w):
		fmt.Fprintf(streams.Err, "corerod: %s\n", source.Plain(err.Error()))
		return int(checker.Wrong)
	}
	fmt.Fprintf(streams.Err, "corerod: %s\n", source.Plain(err.Error()))
	return int(checker.OurFault)
}

// watched is standard output: where it cannot be written the call is wrong. It remembers that, since help does not pass it on.
type watched struct {
	io.Writer
	err error
}

func (w *watched) Write(b []byte) (int, error) {
	n, err := w.Writer.Write(b)
	if err != nil {
		w.err = wrong("standard output cannot be written: %v", cause(err))
	}
	return n, w.err
}

func newRoot(c *call) *cobra.Command {
	root := &cobra.Command{
		Use:   "corerod",
		Short: "Reviews drawings of pressed and sintered parts before tools are cut",
		Long: `corerod reads a part's geometry from YAML, computes its as-pressed shape and judges it by a pack of rules for
pressing and sintering: each finding says where on the part it lies, what was measured and what is needed.

Exit status: 0 clear at the chosen grade, 1 findings at or above it, 2 an invalid command line, part or pack, 3 nothing was
reviewed, 4 a fault of corerod itself.`,
		Version:           data.Version,
		SilenceErrors:     true,
		SilenceUsage:      true,
		CompletionOptions: cobra.CompletionOptions{DisableDefaultCmd: true},
		Args:              func(cmd *cobra.Command, args []string) error { return unknownCommand(cmd, args) },
		RunE: func(cmd *cobra.Command, _ []string) error {
			return cmd.Help()
		},
	}
	root.SetVersionTemplate("corerod {{.Version}}\n")
	root.DisableFlagsInUseLine = true
	root.SetUsageTemplate(strings.NewReplacer("Global Flags:", "Options of every command:", "Flags:", "Options:", "Available Commands:",
		"Commands:", "[command]", "COMMAND").Replace(root.UsageTemplate()))
	root.SetHelpCommand(helpCommand())
	root.SetHelpFunc(func(cmd *cobra.Command, _ []string) {
		fmt.Fprintf(c.Out, "%s\n\n%s", cmp.Or(cmd.Long, cmd.Short), cmd.UsageString())
	})
	root.PersistentFlags().BoolVar(&c.trace, "trace", false, "show the run's steps on standard error")
	root.SetFlagErrorFunc(unknownOption)
	root.AddCommand(reviewCommand(c), compareCommand(c), reviseCommand(c), drawingCommand(c), concedeCommand(c), joinCommand(c),
		toolingCommand(c), measureCommand(c), startCommand(c), packCommand(c), schemaCommand(c))
	return root
}

// helpCommand shows the help of a command; a word that is no command is refused.
func helpCommand() *cobra.Command {
	return &cobra.Command{
		Use:                   "help [COMMAND]",
		DisableFlagsInUseLine: true,
		Short:                 "Show what a command does",
		RunE: func(cmd *cobra.Command, args []string) error {
			c, rest, err := cmd.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return unknownCommand(c, rest)
			}
			c.InitDefaultHelpFlag()
			return c.Help()
		},
	}
}

// unknownCommand refuses a word that is no command, with the nearest one.
func unknownCommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var names []string
	for _, c := range cmd.Commands() {
		names = append(names, c.Name())
	}
	return wrong("there is no command %s%s", source.Quote(args[0]), meant(args[0], names, ""))
}

// unknownOption words a mistake in an option, with the nearest known one.
func unknownOption(cmd *cobra.Command, err error) error {
	text := err.Error()
	name, found := strings.CutPrefix(text, "unknown flag: --")
	if !found {
		if rest, short := strings.CutPrefix(text, "unknown shorthand flag: "); short {
			return wrong("there is no option %s", rest[strings.LastIndex(rest, " ")+1:])
		}
		if bad, ok := strings.CutPrefix(text, "invalid argument "); ok {
			value, rest, _ := strings.Cut(bad, " for ")
			option, _, _ := strings.Cut(strings.Trim(rest, `"`), " flag")
			return wrong("%s is no value for the option %s", value, strings.Trim(option, `"`))
		}
		return wrong("%s", strings.ReplaceAll(text, "flag", "option"))
	}
	name, _, _ = strings.Cut(name, "=")
	return wrong("there is no option %s%s", source.Quote("--"+name), meant(name, optionNames(cmd), "--"))
}

func meant(word string, known []string, prefix string) string {
	if near := source.Nearest(word, known); near != "" {
		return fmt.Sprintf("; did you mean `%s%s`?", prefix, near)
	}
	return ""
}

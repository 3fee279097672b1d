package main

import (
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// statusesOf are the statuses that each command can end with. Every command can be called wrongly (2) and can have a fault
// of its own (4); docs/commands.md has the table.
var statusesOf = map[string]string{
	"corerod":            "0 2 4",
	"corerod help":       "0 2 4",
	"corerod review":     "0 1 2 3 4",
	"corerod compare":    "0 1 2 4",
	"corerod revise":     "0 1 2 4",
	"corerod drawing":    "0 2 4",
	"corerod tooling":    "0 2 4",
	"corerod measure":    "0 2 4",
	"corerod pack":       "0 2 4",
	"corerod pack show":  "0 2 4",
	"corerod pack prove": "0 1 2 4",
	"corerod pack start": "0 2 4",
	"corerod concede":    "0 2 4",
	"corerod join":       "0 1 2 3 4",
	"corerod schema":     "0 2 4",
	"corerod start":      "0 2 4",
}

// TestScriptsComplete: the scripts call every command with every option, and show every status that it can end with.
func TestScriptsComplete(t *testing.T) {
	options := map[string]bool{"corerod concede --no-shop": true} // it leaves no place for a record: see concede-without-shop
	statuses := map[string]bool{}
	for _, s := range commandScripts(t) {
		cmd, used := called(s.args)
		for _, name := range used {
			if name == "trace" { // the root's, which every command has
				options["corerod --trace"] = true
			}
			options[cmd+" --"+name] = options[cmd+" --"+name] || s.status != "2" // a refused call shows no option at work
		}
		statuses[cmd+", status "+s.status] = true
		if s.status != "" && !slices.Contains(strings.Fields(statusesOf[cmd]), s.status) {
			t.Errorf("%s: %s ends with status %s, which is not in the table", s.path, cmd, s.status)
		}
	}
	for _, cmd := range commands() {
		if statusesOf[cmd.CommandPath()] == "" {
			t.Errorf("the table does not say which statuses %s can end with", cmd.CommandPath())
		}
		for _, name := range ownOptions(cmd) {
			if what := cmd.CommandPath() + " --" + name; !options[what] {
				t.Errorf("no script calls %s", what)
			}
		}
	}
	for cmd, all := range statusesOf {
		for _, status := range strings.Fields(all) {
			if what := cmd + ", status " + status; !statuses[what] {
				t.Errorf("no script shows %s", what)
			}
		}
	}
}

// commands are all commands, the root first.
func commands() (all []*cobra.Command) {
	var add func(cmd *cobra.Command)
	add = func(cmd *cobra.Command) {
		cmd.InitDefaultHelpFlag()
		cmd.InitDefaultVersionFlag()
		all = append(all, cmd)
		for _, c := range cmd.Commands() {
			add(c)
		}
	}
	root := newRoot(&call{})
	root.InitDefaultHelpCmd()
	add(root)
	return all
}

// ownOptions are the options of a command, without those of the root that every command has.
func ownOptions(cmd *cobra.Command) (names []string) {
	cmd.LocalFlags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	return names
}

// called finds the command that a command line calls, and the options that it gives.
func called(args []string) (command string, options []string) {
	root := commands()[0]
	cmd, rest, err := root.Find(args)
	if err != nil {
		cmd, rest = root, args
	}
	for _, a := range rest {
		name, long := strings.CutPrefix(a, "--")
		name, _, _ = strings.Cut(name, "=")
		switch {
		case a == "--":
			return cmd.CommandPath(), options
		case long:
			options = append(options, name)
		case len(a) == 2 && a[0] == '-' && cmd.Flags().ShorthandLookup(a[1:]) != nil:
			options = append(options, cmd.Flags().ShorthandLookup(a[1:]).Name)
		}
	}
	return cmd.CommandPath(), options
}

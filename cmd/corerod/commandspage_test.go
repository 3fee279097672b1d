package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

const commandsHead = `# Commands

Every command with its options, generated from the built-in help. Each command takes ` + "`--trace`" + `, which shows the run's steps on
standard error.

## Exit status

| status | says |
|---|---|
| 0 | all that was asked for is done; of a review, clear at the chosen grade |
| 1 | findings at or above the chosen grade, or what the table below says |
| 2 | an invalid command line, part, pack, shop file or concession, or a file that cannot be read or written |
| 3 | nothing was reviewed: no part file was found |
| 4 | a fault of corerod itself |
| 129, 130, 143 | interrupted by SIGHUP, SIGINT (Ctrl+C) or SIGTERM: temporary files and locks are removed, and every file is whole or as it was |

If several hold, 4 comes before 2, then 3, 1 and 0. A process that is killed outright (kill -9) may leave files whose names begin with
` + "`.corerod-`" + `, and a lock; delete them.

| command | ends with | 1 says |
|---|---|---|
`

// foundBy says what status 1 means, of commands that can end with it.
var foundBy = map[string]string{
	"corerod review":     "findings at or above the chosen grade; since an earlier review new and worsened ones",
	"corerod compare":    "a finding is gained or worsened",
	"corerod revise":     "a stop or a change is left",
	"corerod pack prove": "something is unproven",
	"corerod join":       "as the review of all lots",
}

// statusTable has a row for each command.
func statusTable() string {
	var b strings.Builder
	for _, cmd := range commands() {
		b.WriteString("| `" + cmd.CommandPath() + "` | " + statusesOf[cmd.CommandPath()] + " | " + foundBy[cmd.CommandPath()] + " |\n")
	}
	return b.String()
}

// optionsOf are the options of a command, by name. --help and --trace, which each has, are told once.
func optionsOf(cmd *cobra.Command) (all []*pflag.Flag) {
	cmd.LocalFlags().VisitAll(func(f *pflag.Flag) {
		if cmd.Parent() == nil || f.Name != "help" {
			all = append(all, f)
		}
	})
	return all
}

// sectionOf is the section of docs/commands.md about a command.
func sectionOf(cmd *cobra.Command) string {
	var b strings.Builder
	says := cmd.Long
	if says == "" {
		says = cmd.Short + "."
	}
	fmt.Fprintf(&b, "\n## %s\n\n`%s`\n\n%s\n\nIt ends with status %s.\n", cmd.CommandPath(), useLine(cmd), plainCell(says),
		listed(strings.Fields(statusesOf[cmd.CommandPath()])))
	options := optionsOf(cmd)
	if len(options) == 0 {
		return b.String()
	}
	b.WriteString("\n| option | does |\n|---|---|\n")
	for _, f := range options {
		value, usage := pflag.UnquoteUsage(f)
		name := "--" + f.Name
		if value != "" {
			name += " " + value
		}
		if f.Shorthand != "" {
			name = "-" + f.Shorthand + "`, `" + name
		}
		if f.DefValue != "" && !slices.Contains([]string{"false", "0", "[]"}, f.DefValue) {
			usage += "; `" + f.DefValue + "` unless given"
		}
		fmt.Fprintf(&b, "| `%s` | %s |\n", name, plainCell(usage))
	}
	return b.String()
}

// useLine is how a command is called.
func useLine(cmd *cobra.Command) string {
	if cmd.Parent() == nil {
		return "corerod COMMAND"
	}
	return cmd.Parent().CommandPath() + " " + cmd.Use
}

// plainCell keeps bars out of tables, and what looks like a tag from being one.
func plainCell(text string) string {
	return strings.NewReplacer("|", `\|`).Replace(text)
}

// listed is "0, 1 or 2".
func listed(all []string) string {
	return strings.Join(all[:len(all)-1], ", ") + " or " + all[len(all)-1]
}

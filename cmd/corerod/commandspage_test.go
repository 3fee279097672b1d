package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

const commandsHead = `# Commands

Every command with its options, made of what the program itself says. ` + "`--trace`" + `, which shows the run's steps on standard error,
goes with each of them. [Exit status](formats.md#exit-status) says what each status means.
`

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
	fmt.Fprintf(&b, "\n## %s\n\n`%s`\n\n%s\n\nIt ends with status %s.\n", cmd.CommandPath(), useLine(cmd), plainCell(says), listed(strings.Fields(statusesOf[cmd.CommandPath()])))
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

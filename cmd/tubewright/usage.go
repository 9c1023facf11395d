package main

import (
	"errors"
	"fmt"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tubewright/factors/source"
)

// noCommand complains about a first word that is no command.
func noCommand(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var known []string
	for _, sub := range c.Commands() {
		if !sub.Hidden {
			known = append(known, sub.Name())
		}
	}
	if near := source.Nearest(args[0], known); near != "" {
		return usageError{fmt.Errorf("no command %q; did you mean %s?", args[0], near)}
	}
	return usageError{fmt.Errorf("no command %q; known: %s", args[0], strings.Join(known, ", "))}
}

// flagError says what is wrong with a flag, and names the nearest one.
func flagError(c *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	var bad *pflag.InvalidValueError
	text := err.Error()
	switch {
	case errors.As(err, &bad):
		text = fmt.Sprintf("--%s %q: expected %s", bad.GetFlag().Name, bad.GetValue(), flagShapes[bad.GetFlag().Value.Type()])
	case errors.As(err, &unknown) && unknown.GetSpecifiedShortnames() == "":
		text = "no flag --" + unknown.GetSpecifiedName()
		var known []string
		c.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, f.Name) })
		if near := source.Nearest(unknown.GetSpecifiedName(), known); near != "" {
			return usageError{fmt.Errorf("%s; did you mean --%s?", text, near)}
		}
	}
	return usageError{fmt.Errorf("%s; see %s --help", text, c.CommandPath())}
}

// flagShapes says what the types of our flags look like; any text is a string.
var flagShapes = map[string]string{"bool": "true or false", "int": "a whole number"}

// atMost allows up to n arguments.
func atMost(n int, what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) > n {
			return usageError{fmt.Errorf("%s takes %s, not %d", c.Name(), what, len(args))}
		}
		return nil
	}
}

// helpCommand takes the place of the library's own, which answers a word that
// is no command with the general help and the exit code of success.
func helpCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "Help about any command",
		RunE: func(c *cobra.Command, args []string) error {
			about, rest, err := c.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return noCommand(c.Root(), args)
			}
			about.InitDefaultHelpFlag()
			about.InitDefaultVersionFlag()
			return about.Help()
		},
	}
}

func versionCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version",
		Args:  atMost(0, "no arguments"),
		RunE: func(c *cobra.Command, _ []string) error {
			_, err := fmt.Fprintf(c.OutOrStdout(), "tubewright version %s\n", version())
			return err
		},
	}
}

func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "unknown"
	}
	return info.Main.Version
}

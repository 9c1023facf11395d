package main

import (
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
	return usageError{fmt.Errorf("no command %q; %s", args[0], source.Suggest(args[0], known))}
}

// flagError names the nearest flag.
func flagError(c *cobra.Command, err error) error {
	text := err.Error()
	name, found := strings.CutPrefix(text, "unknown flag: --")
	if !found {
		return usageError{fmt.Errorf("%s; see tubewright %s --help", text, c.Name())}
	}
	var known []string
	c.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, f.Name) })
	if near := source.Nearest(name, known); near != "" {
		return usageError{fmt.Errorf("no flag --%s; did you mean --%s?", name, near)}
	}
	return usageError{fmt.Errorf("no flag --%s; see tubewright %s --help", name, c.Name())}
}

// atMost allows up to n arguments.
func atMost(n int, what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) > n {
			return usageError{fmt.Errorf("%s takes %s, not %d arguments", c.Name(), what, len(args))}
		}
		return nil
	}
}

func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "unknown"
	}
	return info.Main.Version
}

package main

import (
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"tubewright/factors/source"
	"tubewright/factors/uk"
	"tubewright/render"
)

func tablesCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "tables [TABLE]",
		Short: "List the tables, or print one with its source",
		Example: `  tubewright tables
  tubewright tables conduit-factor-long-or-bent`,
		Args: atMost(1, "one table"),
		RunE: func(c *cobra.Command, args []string) error {
			w, f := c.OutOrStdout(), uk.Tables()
			if len(args) == 0 {
				if asJSON {
					return render.WriteTableListJSON(w, f)
				}
				return render.WriteTableList(w, f)
			}
			if ids := f.IDs(); !slices.Contains(ids, args[0]) {
				if near := source.Nearest(args[0], ids); near != "" {
					return usageError{fmt.Errorf("no table %q; did you mean %s?", args[0], near)}
				}
				return usageError{fmt.Errorf("no table %q; tubewright tables lists all %d", args[0], len(ids))}
			}
			if asJSON {
				return render.WriteTableJSON(w, f.Table(args[0]))
			}
			return render.WriteTable(w, f.Table(args[0]))
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return uk.Tables().IDs(), cobra.ShellCompDirectiveNoFileComp
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	return c
}

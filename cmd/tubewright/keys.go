package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"tubewright/factors/source"
	"tubewright/render"
	"tubewright/route"
)

func keysCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "keys [PART or KEY]",
		Short: "List the keys of the job file: what each takes and means, with an example",
		Long: `keys lists every key that a job file may have, part by part, with what it takes,
what it means and an example. With the name of a part (circuit, place, run …) it
prints that part, with the name of a key that key wherever it may stand.`,
		Example: `  tubewright keys
  tubewright keys circuit
  tubewright keys cpc`,
		RunE: func(c *cobra.Command, args []string) error {
			parts, err := keysNamed(strings.Join(args, " "))
			if err != nil {
				return err
			}
			if asJSON {
				return render.WriteKeysJSON(c.OutOrStdout(), parts)
			}
			return render.WriteKeys(c.OutOrStdout(), parts)
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return keyNames(), cobra.ShellCompDirectiveNoFileComp
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	return c
}

// keysNamed returns every part, the parts of that name whole, and of other
// parts the key of that name.
func keysNamed(name string) ([]route.KeyPart, error) {
	var found []route.KeyPart
	for _, p := range route.KeyParts() {
		if name != "" && p.Name != name {
			var one []route.KeyInfo
			for _, k := range p.Keys {
				if k.Key == name {
					one = append(one, k)
				}
			}
			p.Keys = one
		}
		if len(p.Keys) > 0 {
			found = append(found, p)
		}
	}
	if len(found) > 0 {
		return found, nil
	}
	if near := source.Nearest(name, keyNames()); near != "" {
		return nil, usageError{fmt.Errorf("no part or key is called %q; did you mean %s?", name, near)}
	}
	var parts []string
	for _, p := range route.KeyParts() {
		parts = append(parts, p.Name)
	}
	return nil, usageError{fmt.Errorf("no part or key is called %q; parts: %s; tubewright keys lists every key", name, strings.Join(parts, ", "))}
}

// keyNames lists the parts and then the keys, each once.
func keyNames() []string {
	var names []string
	seen := map[string]bool{}
	add := func(n string) {
		if !seen[n] {
			seen[n] = true
			names = append(names, n)
		}
	}
	for _, p := range route.KeyParts() {
		add(p.Name)
	}
	for _, p := range route.KeyParts() {
		for _, k := range p.Keys {
			add(k.Key)
		}
	}
	return names
}

package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"tubewright/fill"
	"tubewright/render"
)

func workCommand() *cobra.Command {
	var of string
	var asJSON bool
	c := &cobra.Command{
		Use:   "work [JOB]",
		Short: "Show the full working of every check",
		Long: `work writes every step as a student would: what is worked out, the formula, the
numbers put in, the result and the table it comes from.`,
		Example: `  tubewright work job.yaml
  tubewright work job.yaml --of "circuit sockets"
  tubewright work job.yaml --of space`,
		Args: atMost(1, "one job file"),
		RunE: func(c *cobra.Command, args []string) error {
			j, err := readJob(c, args)
			if err != nil {
				return err
			}
			r := fill.Check(j)
			if of != "" {
				r.Findings = keepOf(r.Findings, of)
				if len(r.Findings) == 0 {
					return usageError{fmt.Errorf("nothing was checked under the name %q; a check such as space, or a subject such as run A", of)}
				}
			}
			r.Remedies()
			if asJSON {
				return render.WriteReportJSON(c.OutOrStdout(), r)
			}
			return render.WriteWorking(c.OutOrStdout(), r)
		},
	}
	c.Flags().StringVar(&of, "of", "", "only this check or subject: space, run A, circuit lights")
	c.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	return c
}

// keepOf keeps the findings of one check or one subject.
func keepOf(fs []fill.Finding, of string) []fill.Finding {
	var kept []fill.Finding
	for _, f := range fs {
		if f.Check == of || f.Subject == of || strings.HasSuffix(f.Subject, " "+of) {
			kept = append(kept, f)
		}
	}
	return kept
}

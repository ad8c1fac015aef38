package main

import (
	"fmt"

	"example.org/roombrief/planner/bill"

	"github.com/spf13/cobra"
)

func billCommand(p process) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "bill FILE",
		Short: "Print the cheapest bill, each line with its reason",
		Long: `Print the exact cheapest devices, controllers, consumables and labour for what the
briefs ask, each line with its reason and the next best part.

Exit status 1 when something that was asked for is not served as asked.`,
		Example: `  roombrief bill alder-row.yaml
  roombrief bill alder-row.yaml --json`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			doc, plan, err := planOf(c.Context(), p, args[0])
			if err != nil {
				return err
			}
			if asJSON {
				err = printJSON(p.out, plan.Bill)
			} else {
				_, err = fmt.Fprint(p.out, bill.Text(plan.Bill, widthOf(p), func(id string) string {
					r, _ := doc.Project().Room(id)
					return r.Title()
				}))
			}
			if err != nil {
				return err
			}
			if len(plan.Bill.Unmet) > 0 {
				return status{heed, nil}
			}
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

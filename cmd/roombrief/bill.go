package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"

	"github.com/spf13/cobra"
)

func billCommand(p process) *cobra.Command {
	var asJSON, unknown, trades, quote bool
	var aim string
	c := &cobra.Command{
		Use:   "bill FILE",
		Short: "Print the cheapest bill, each line with its reason",
		Long: `Print the exact cheapest devices, controllers, consumables and labour for what the
briefs ask, each line with its reason and the next best part.

With --trade-offs it prints instead the bills of which none beats another in money,
upkeep and losses at once, as a table and a picture.

With --quote it prints what the household is shown: what each room comes to, and what it
may leave out or have otherwise, each with the difference that planning anew gives. The
same as a page to print: roombrief handover FILE -o DIR --quote.

With --aim the bill is the best at something else first, and then the cheapest: upkeep
is the least time a year for cells and worn parts; resilience the fewest needs lost
when the controller, the Wi-Fi network or the internet is gone.

With --open the price of every unknown fact and parked question instead: what the bill and
the promises become under each possible answer, and what to look at before you leave.

Exit status 1 when something that was asked for is not served as asked; with --open when
something hangs on an answer.`,
		Example: `  roombrief bill alder-row.yaml
  roombrief bill alder-row.yaml --aim upkeep
  roombrief bill alder-row.yaml --open
  roombrief bill alder-row.yaml --trade-offs
  roombrief bill alder-row.yaml --quote
  roombrief bill alder-row.yaml --json`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := cmp.Or(apart(c, "trade-offs", "quote", "open"), apart(c, "aim", "trade-offs")); err != nil {
				return err
			}
			if trades {
				return printTrades(c.Context(), p, args[0], asJSON)
			}
			if aim != "" && !slices.Contains(bill.Aims, bill.Aim(aim)) {
				return status{badCall, fmt.Errorf("no aim %q; there are cost, upkeep, resilience", aim)}
			}
			if unknown {
				matters, err := printOpen(c.Context(), p, args[0], aim, asJSON)
				if err == nil && matters {
					err = status{heed, nil}
				}
				return err
			}
			doc, plan, err := planOf(c.Context(), p, args[0], func(p *model.Project) {
				if aim != "" {
					p.Choices.Aim = aim
				}
			})
			if err != nil {
				return err
			}
			if quote {
				err = printQuote(c, p, args[0], doc, plan, asJSON)
			} else if asJSON {
				err = printJSON(p.out, plan.Bill)
			} else {
				_, err = fmt.Fprint(p.out, bill.TextOn(plan.Bill, widthOf(p), func(id string) string {
					r, _ := doc.Project().Room(id)
					return r.Title()
				}, model.Date{Time: today(p)}))
			}
			if err != nil {
				return err
			}
			if !asJSON && len(plan.Findings) > 0 {
				fmt.Fprintln(p.out)
				printFindings(p, plan, "")
			}
			if len(plan.Bill.Unmet) > 0 {
				return status{heed, nil}
			}
			return nil
		},
	}
	c.Flags().BoolVar(&trades, "trade-offs", false, "print the bills that none beats in money, upkeep and losses at once")
	c.Flags().StringVar(&aim, "aim", "", "what the bill is the best at: cost, upkeep or resilience; the project's own aim when absent")
	words(c, "aim", "cost", "upkeep", "resilience")
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	c.Flags().BoolVar(&unknown, "open", false, "price every unknown fact and parked question instead")
	c.Flags().BoolVar(&quote, "quote", false, "print what the household is shown: rooms, and options with their differences")
	return c
}

// apart refuses flags that were given together and of which each asks for something else.
func apart(c *cobra.Command, flags ...string) error {
	var given []string
	for _, f := range flags {
		if c.Flags().Changed(f) {
			given = append(given, "--"+f)
		}
	}
	if len(given) < 2 {
		return nil
	}
	return status{badCall, fmt.Errorf("%s don't go together; see roombrief %s--help", english.List(given), subcommand(c))}
}

func printTrades(ctx context.Context, p process, path string, asJSON bool) error {
	doc, err := load(p, path)
	if err != nil {
		return err
	}
	shelf, err := shelfOf(path, doc.Project())
	if err != nil {
		return err
	}
	t, err := planner.TradeOffs(ctx, doc.Project(), shelf)
	if err != nil {
		return status{badCall, fmt.Errorf("%s: %w", path, err)}
	}
	if asJSON {
		return printJSON(p.out, t)
	}
	_, err = fmt.Fprint(p.out, bill.TradesText(t, widthOf(p)))
	return err
}

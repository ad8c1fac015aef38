package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/store"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/open"
	"example.org/roombrief/planner/papers"
	"example.org/roombrief/planner/proof"

	"github.com/spf13/cobra"
)

func handoverCommand(p process) *cobra.Command {
	var folder string
	var promises, quote bool
	c := &cobra.Command{
		Use:   "handover FILE -o DIR",
		Short: "Write the papers: shopping list, rule sheet, floor plans, household page",
		Example: `  roombrief handover alder-row.yaml -o papers
  roombrief handover alder-row.yaml -o papers --quote
  SOURCE_DATE_EPOCH=0 roombrief handover alder-row.yaml -o papers   the same bytes every time`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			if folder == "" {
				return status{badCall, fmt.Errorf("say where the papers go: roombrief handover %s -o papers", args[0])}
			}
			doc, plan, err := planOf(c.Context(), p, args[0])
			if err != nil {
				return err
			}
			o := papers.Options{Today: model.Date{Time: today(p)}, Program: "Roombrief " + version()}
			if promises {
				if o.Proved, err = provedRooms(c.Context(), doc.Project(), plan); err != nil {
					return status{badCall, err}
				}
			}
			shelf, err := shelfOf(args[0], doc.Project())
			if err != nil {
				return err
			}
			if o.Open, err = open.All(c.Context(), doc, shelf, open.Options{NoProof: !promises}); err != nil {
				return status{badCall, err}
			}
			if quote {
				if o.Quote, err = quoteOf(c.Context(), args[0], doc, plan); err != nil {
					return err
				}
			}
			all, err := papers.All(doc.Project(), fixtures.Catalogue(), plan, o)
			if err != nil {
				return err
			}
			if err := os.MkdirAll(folder, 0o755); err != nil {
				return status{badCall, noFolder(folder, err)}
			}
			for _, paper := range all {
				path := filepath.Join(folder, paper.Name)
				if err := store.WriteWhole(path, paper.Body); err != nil {
					return status{badCall, err}
				}
				fmt.Fprintf(p.out, "%s  for %s\n", path, paper.For)
			}
			if len(plan.Bill.Unmet) > 0 {
				fmt.Fprintf(p.err, "roombrief: %s not served as asked; the shopping list says which\n", countNeeds(len(plan.Bill.Unmet)))
				return status{heed, nil}
			}
			return nil
		},
	}
	c.Flags().StringVarP(&folder, "output", "o", "", "folder for the papers, made when absent")
	c.Flags().BoolVar(&quote, "quote", false, "plan what the household may leave out or have otherwise, and write the quote too; takes longer")
	c.Flags().BoolVar(&promises, "promises", false, "prove the promises first, and write their paper too; takes longer")
	return c
}

// noFolder says why the papers have no folder to lie in.
func noFolder(folder string, err error) error {
	var at *fs.PathError
	if errors.As(err, &at) && errors.Is(err, syscall.ENOTDIR) {
		return fmt.Errorf("the papers need a folder, and %s is a file; give another name", at.Path)
	}
	if at != nil {
		err = at.Err
	}
	return fmt.Errorf("the folder %s can't be made: %w; give another name", folder, err)
}

func countNeeds(n int) string {
	if n == 1 {
		return "one need is"
	}
	return fmt.Sprintf("%d needs are", n)
}

// provedRooms are the verdicts of a home: of the whole first, then room by room.
func provedRooms(ctx context.Context, p *model.Project, plan planner.Plan) ([]papers.Proved, error) {
	out, cache := []papers.Proved{}, &proof.Cache{}
	ids := []string{""}
	for _, r := range p.Rooms {
		ids = append(ids, r.ID)
	}
	for _, id := range ids {
		verdicts, err := proof.Room(ctx, p, plan.Fitted, id, proof.Options{Cache: cache})
		if err != nil {
			return nil, err
		}
		blames, err := plan.Blames(ctx, p, id, verdicts, proof.Options{Cache: cache})
		if err != nil {
			return nil, err
		}
		out = append(out, papers.Proved{Room: id, Verdicts: verdicts, Blames: blames})
	}
	return out, nil
}

package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/model/store"
	"example.org/roombrief/planner"

	"github.com/spf13/cobra"
)

// source reads a file, or with "-" what comes in; one byte more than a file may have is enough to refuse it.
func source(p process, path string) ([]byte, error) {
	if path == "-" {
		b, err := io.ReadAll(io.LimitReader(p.in, store.MostBytes+1))
		if err != nil {
			return nil, status{badCall, fmt.Errorf("what comes in can't be read: %w", err)}
		}
		return b, nil
	}
	f, err := store.Open(path)
	if err != nil {
		return nil, status{badCall, err}
	}
	return f.Bytes(), nil
}

// load reads a project that must be sound. Its problems go to stderr, each with its place.
func load(p process, path string) (*projectfile.Document, error) {
	src, err := source(p, path)
	if err != nil {
		return nil, err
	}
	doc := projectfile.Parse(src)
	if !doc.OK() {
		printProblems(p.err, path, doc.Problems())
		return nil, status{badCall, nil}
	}
	return doc, nil
}

// printProblems prints one line a problem: file:line:column: message.
func printProblems(w io.Writer, path string, problems []projectfile.Problem) {
	for _, x := range problems {
		if x.Warning {
			x.Message = "(only a warning) " + x.Message
		}
		fmt.Fprintf(w, "%s:%s\n", path, x.Error())
	}
}

// planOf loads a project and plans it, with changes that are for this plan only.
func planOf(ctx context.Context, p process, path string, change ...func(*model.Project)) (*projectfile.Document, planner.Plan, error) {
	go fixtures.Catalogue() // read while the project is
	doc, err := load(p, path)
	if err != nil {
		return nil, planner.Plan{}, err
	}
	project := *doc.Project()
	for _, f := range change {
		f(&project)
	}
	shelf, err := shelfOf(path, &project)
	if err != nil {
		return nil, planner.Plan{}, err
	}
	plan, err := planner.Make(ctx, &project, shelf)
	return doc, plan, planned(path, err)
}

// planned names the file that couldn't be planned.
func planned(path string, err error) error {
	if err == nil {
		return nil
	}
	return status{badCall, fmt.Errorf("%s: %w", path, err)}
}

// behaviourOf loads a project and plans it for what it does, not for what it costs: its bill has no reasons, and where its own prices
// can't be read, stderr says so and the catalogue's stand in.
func behaviourOf(ctx context.Context, p process, path string) (*projectfile.Document, planner.Plan, *catalogue.Catalogue, error) {
	doc, err := load(p, path)
	if err != nil {
		return nil, planner.Plan{}, nil, err
	}
	shelf, err := store.Shelf(path, doc.Project(), fixtures.Catalogue())
	if err != nil {
		fmt.Fprintf(p.err, "%s\nThe parts are chosen by the catalogue's indicative prices instead.\n", err)
	}
	plan, _, err := planner.Soon(ctx, doc.Project(), shelf)
	return doc, plan, shelf, planned(path, err)
}

// shelfOf is the catalogue with the own prices that a project names; those of a project from standard input lie in the folder that
// the command is called in.
func shelfOf(path string, p *model.Project) (*catalogue.Catalogue, error) {
	shelf, err := store.Shelf(path, p, fixtures.Catalogue())
	if err != nil {
		return nil, status{badCall, err}
	}
	return shelf, nil
}

// checkRoom refuses a room that the project does not have, and offers the nearest.
func checkRoom(doc *projectfile.Document, room string) error {
	if room == "" {
		return nil
	}
	var names []string
	for _, r := range doc.Project().Rooms {
		if r.ID == room {
			return nil
		}
		names = append(names, r.ID)
	}
	hint := "the project has no rooms yet"
	if len(names) > 0 {
		hint = "its rooms are " + strings.Join(names, ", ")
	}
	return status{badCall, fmt.Errorf("no room %q in this project; %s", room, hint)}
}

// printJSON writes a value for other programs: two-space indent, no HTML escapes, fields in a fixed order.
func printJSON(w io.Writer, v any) error {
	if l, ok := w.(lettered); ok {
		w = l.w // a program reads it, letter for letter
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// oneFile is the argument rule of every command that reads a project.
func oneFile(c *cobra.Command, args []string) error {
	if len(args) != 1 {
		return status{badCall, fmt.Errorf("%s needs one project file, it got %d; see roombrief %s --help", c.CommandPath(), len(args), c.Name())}
	}
	return nil
}

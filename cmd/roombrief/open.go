package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"time"

	"example.org/roombrief/model/interview"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/model/store"
	"example.org/roombrief/planner/open"
	"example.org/roombrief/tui"

	"github.com/spf13/cobra"
)

// openScreen starts the terminal UI; without a terminal it says what to do instead.
func openScreen(ctx context.Context, p process, file, room string, talk bool) error {
	err := tui.Run(ctx, tui.Options{
		File: file, Room: room, Interview: talk, In: p.inFile, Out: p.outFile, Env: p.env,
		Today: func() time.Time { return today(p) }, Program: "Roombrief " + version(),
	})
	var bad *tui.BadFile
	switch {
	case err == nil:
		return nil
	case errors.As(err, &bad):
		for _, x := range bad.Problems {
			fmt.Fprintf(p.err, "%s:%s\n", bad.File, x.Error())
		}
		return status{badCall, fmt.Errorf("put the mistakes in %s right first", bad.File)}
	}
	return status{badCall, err}
}

func interviewCommand(p process) *cobra.Command {
	var room string
	var plain bool
	c := &cobra.Command{
		Use:   "interview FILE",
		Short: "Ask the household, one question at a time",
		Long: `Ask the household what is in the house and what they want each room to do by itself.
Answers are kept in FILE, made when absent, as they come.

With --plain the same questions come line by line, for screen readers and scripts:
Enter takes what stands in brackets, ? says why it is asked, < goes back.`,
		Example: `  roombrief interview alder-row.yaml
  roombrief interview alder-row.yaml --room shower-room --plain`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			if !plain {
				return openScreen(c.Context(), p, args[0], room, true)
			}
			return plainInterview(c.Context(), p, args[0], room)
		},
	}
	c.Flags().StringVar(&room, "room", "", "only this room")
	c.Flags().BoolVar(&plain, "plain", false, "line by line, without a screen")
	return c
}

// plainInterview asks on stdin and stdout and saves after each answer.
func plainInterview(ctx context.Context, p process, path, room string) (err error) {
	f, doc, err := openOrNew(p, path)
	if err != nil {
		return err
	}
	defer func() {
		if cerr := f.Close(); err == nil && cerr != nil {
			err = status{badCall, cerr}
		}
	}()
	if err := takeOver(f); err != nil {
		return err
	}
	if room != "" {
		if err := checkRoom(doc, room); err != nil {
			return err
		}
	}
	save := func(d *projectfile.Document) error { return f.Save(d.Source()) }
	doc, err = interview.Plain(ctx, doc, interview.PlainOptions{
		Room: room, Today: today(p), Echo: !isTerminal(p.inFile),
	}, p.in, p.out, save)
	if err != nil {
		return status{badCall, err}
	}
	return beforeYouLeave(ctx, p, path, doc)
}

// takeOver keeps other programs off a file, and refuses one with unsaved work in it: only the notebook offers that.
func takeOver(f *store.File) error {
	err := f.Lock()
	if err == nil {
		err = f.Settled()
	}
	if err != nil {
		return status{badCall, err}
	}
	return nil
}

// beforeYouLeave ends a survey with what hangs on what nobody knows. A home that can't be planned yet is left at that: the bill says why.
func beforeYouLeave(ctx context.Context, p process, path string, doc *projectfile.Document) error {
	if len(open.List(doc.Project())) == 0 {
		return nil
	}
	shelf, err := shelfOf(path, doc.Project())
	if err != nil {
		return nil
	}
	points, err := open.All(ctx, doc, shelf, open.Options{})
	if err != nil {
		return nil
	}
	if _, err := fmt.Fprint(p.out, "\n"+points.Text(doc.Project(), widthOf(p))); err != nil {
		return status{badCall, err}
	}
	return nil
}

// openOrNew opens a sound project, or begins one where there is no file.
func openOrNew(p process, path string) (*store.File, *projectfile.Document, error) {
	src := projectfile.Starter("")
	f, err := store.Open(path)
	switch {
	case err == nil:
		src = f.Bytes()
	case errors.Is(err, fs.ErrNotExist):
		f, err = store.New(path)
	}
	if err != nil {
		return nil, nil, status{badCall, err}
	}
	if dir, err := store.StateDir(p.env); err == nil {
		f.StateDir = dir
	}
	f.Clock = func() time.Time { return today(p) }
	doc := projectfile.Parse(src)
	if !doc.OK() {
		printProblems(p.err, path, doc.Problems())
		return nil, nil, status{badCall, fmt.Errorf("put the mistakes in %s right first", path)}
	}
	return f, doc, nil
}

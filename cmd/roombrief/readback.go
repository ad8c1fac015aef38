package main

import (
	"fmt"

	"example.org/roombrief/model"
	"example.org/roombrief/model/readback"

	"github.com/spf13/cobra"
)

// readbackJSON is one room of `readback --json`.
type readbackJSON struct {
	Room        string         `json:"room"`
	Name        string         `json:"name"`
	Sentences   []sentenceJSON `json:"sentences"`
	Agreement   string         `json:"agreement"` // never, agreed, lapsed
	AgreedBy    string         `json:"agreed_by,omitempty"`
	AgreedOn    string         `json:"agreed_on,omitempty"`
	Fingerprint string         `json:"fingerprint"`
}

type sentenceJSON struct {
	Goal string `json:"goal"`
	Text string `json:"text"`
}

func readbackCommand(p process) *cobra.Command {
	var asJSON bool
	var room string
	c := &cobra.Command{
		Use:   "readback FILE",
		Short: "Tell the briefs back in plain sentences",
		Example: `  roombrief readback alder-row.yaml
  roombrief readback alder-row.yaml --room shower-room`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			doc, err := load(p, args[0])
			if err != nil {
				return err
			}
			if err := checkRoom(doc, room); err != nil {
				return err
			}
			pr := doc.Project()
			out := []readbackJSON{}
			for _, r := range pr.Rooms {
				if room != "" && r.ID != room {
					continue
				}
				out = append(out, readRoom(pr, r))
			}
			if asJSON {
				return printJSON(p.out, out)
			}
			if len(out) == 0 {
				fmt.Fprintln(p.out, "No rooms yet: roombrief interview asks about the first.")
			}
			for i, r := range out {
				if i > 0 {
					fmt.Fprintln(p.out)
				}
				printReadback(p, pr, r)
			}
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	c.Flags().StringVar(&room, "room", "", "only this room")
	return c
}

func readRoom(pr *model.Project, r model.Room) readbackJSON {
	j := readbackJSON{Room: r.ID, Name: r.Title(), Sentences: []sentenceJSON{}, Agreement: "never", Fingerprint: readback.Fingerprint(r)}
	for _, s := range readback.Room(pr, r.ID) {
		j.Sentences = append(j.Sentences, sentenceJSON{s.Goal, s.Text})
	}
	a, state := readback.Agreement(pr, r.ID)
	switch state {
	case readback.Agreed:
		j.Agreement = "agreed"
	case readback.Lapsed:
		j.Agreement = "lapsed"
	default:
		return j
	}
	j.AgreedBy, j.AgreedOn = a.By, a.On.Format("2006-01-02")
	return j
}

func printReadback(p process, pr *model.Project, r readbackJSON) {
	fmt.Fprintln(p.out, r.Name)
	if len(r.Sentences) == 0 {
		fmt.Fprintln(p.out, "  Nothing has been asked of this room yet.")
	}
	for _, s := range r.Sentences {
		fmt.Fprintln(p.out, wrap(s.Text, "  ", widthOf(p)))
	}
	by := r.AgreedBy
	if x, ok := pr.Person(by); ok {
		by = x.Title()
	}
	switch r.Agreement {
	case "agreed":
		fmt.Fprintf(p.out, "  Agreed by %s on %s.\n", by, r.AgreedOn)
	case "lapsed":
		fmt.Fprintf(p.out, "  Changed since %s agreed on %s: read it back again.\n", by, r.AgreedOn)
	default:
		if len(r.Sentences) > 0 {
			fmt.Fprintln(p.out, "  Not agreed yet.")
		}
	}
}

package main

import (
	"context"
	"fmt"
	"io"
	"strings"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/remedy"
	"example.org/roombrief/planner/story"
	"example.org/roombrief/tui/strip"
	"example.org/roombrief/tui/theme"

	"github.com/charmbracelet/lipgloss"
	"github.com/spf13/cobra"
)

// proveJSON is `prove --json`.
type proveJSON struct {
	Rooms     []provedRoomJSON `json:"rooms"` // those with promises, in the project's order; id "" is the home as a whole
	Kept      int              `json:"kept"`
	Broken    int              `json:"broken"`
	Empty     int              `json:"empty"` // promises whose premise never comes about
	Undecided int              `json:"undecided"`
}

type provedRoomJSON struct {
	Room        string           `json:"room"`
	Name        string           `json:"name"`
	Assumptions []assumptionJSON `json:"assumptions"`
	Promises    []verdictJSON    `json:"promises"`
	Applied     []appliedJSON    `json:"applied"` // what the plan has for the sake of promises, beyond what was asked in so many words
}

type assumptionJSON struct {
	Number int    `json:"number"` // counted from 1 in each room
	ID     string `json:"id"`
	Text   string `json:"text"`
}

type verdictJSON struct {
	ID       string        `json:"id"`
	Goal     string        `json:"goal"`
	Kind     string        `json:"kind"`
	Sentence string        `json:"sentence"`
	Fault    string        `json:"fault,omitempty"`          // what fails meanwhile: battery dead, power cut, restart, internet gone, clock change
	Verdict  string        `json:"verdict"`                  // kept, broken, empty, undecided
	LeansOn  []int         `json:"leans_on"`                 // numbers of assumptions
	Moving   int           `json:"kept_if_moving,omitempty"` // seconds: a broken one is kept if whoever is inside moves at least this often
	Why      string        `json:"why,omitempty"`            // of an undecided one what ran out, of a broken one without a story what is wrong, of an empty one in what it isn't put to the test
	Untried  []string      `json:"untried,omitempty"`        // of an empty one that is kept in part: the parts that no story puts to the test
	Story    *storyJSON    `json:"story,omitempty"`          // of a broken one, unless it is broken whatever happens
	Remedies *remediesJSON `json:"remedies,omitempty"`       // of a broken one
	Limits   []string      `json:"limits,omitempty"`         // keys of the controller's limits that break it, where rules without limits keep it
	Limit    string        `json:"limit,omitempty"`          // the same in words

	hollow string // what is said of an empty one
}

type storyJSON struct {
	Begins string      `json:"begins"`         // time of day
	When   string      `json:"when,omitempty"` // of which day of the year the story is, in words, where that matters
	Lines  []lineJSON  `json:"lines"`          // the last one breaks the promise
	Broke  string      `json:"broke"`
	Tracks []trackJSON `json:"tracks"`
}

type lineJSON struct {
	Time   string   `json:"time"`  // of day
	Since  int      `json:"since"` // seconds since the beginning
	Person bool     `json:"person"`
	Text   string   `json:"text"`
	Rules  []string `json:"rules"` // what the rules do about it
}

type trackJSON struct {
	Name   string   `json:"name"`
	Values []string `json:"values"` // before the first line, then after each
}

func proveCommand(p process) *cobra.Command {
	var asJSON, faults bool
	var room string
	c := &cobra.Command{
		Use:   "prove FILE",
		Short: "Prove or refute each promise of the briefs",
		Long: `Decide for every promise that a brief makes whether the rules that the controllers run keep
it, whatever people do and whenever they do it. Where only rules without limits would, the
limit that breaks it is named. A promise that is broken comes with a shortest story
that breaks it, with what the verdict leans on, and with the cheapest changes that would
mend it. With --faults each promise is proved once more for each thing that may fail; with
--room as well, what would mend those that a fault breaks is looked for too.

Exit status 1 when a promise is broken, or could not be decided.`,
		Example: `  roombrief prove alder-row.yaml
  roombrief prove alder-row.yaml --room shower-room --json`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			doc, plan, shelf, err := behaviourOf(c.Context(), p, args[0])
			if err != nil {
				return err
			}
			if err := checkRoom(doc, room); err != nil {
				return err
			}
			w := prover{p: p, doc: doc, project: doc.Project(), shelf: shelf, plan: plan, width: widthOf(p), faults: faults, only: room, cache: &proof.Cache{}, mending: map[string]remedy.Result{}}
			w.out.Rooms = []provedRoomJSON{}
			if err := w.rooms(c.Context(), room, !asJSON); err != nil {
				return err
			}
			if asJSON {
				err = printJSON(p.out, w.out)
			} else {
				w.sum(room)
			}
			if err == nil && w.out.Broken+w.out.Undecided > 0 {
				return status{heed, nil}
			}
			return err
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	c.Flags().StringVar(&room, "room", "", "only this room")
	c.Flags().BoolVar(&faults, "faults", false, "prove each promise with one thing failing, too: a battery, the mains, the internet, the clock")
	return c
}

// prover proves a home room by room and prints what comes of it as it goes.
type prover struct {
	p       process
	doc     *projectfile.Document
	project *model.Project
	shelf   *catalogue.Catalogue
	plan    planner.Plan
	width   int
	faults  bool
	only    string                   // the one room that is asked about; "" is all
	cache   *proof.Cache             // rooms that are alike are proved once
	mending map[string]remedy.Result // by room: what was found last
	mended  []remedyJSON             // that were printed last
	blames  []planner.Blame          // of the room in hand
	out     proveJSON
}

// rooms proves one room, or with "" the home as a whole and then each.
func (w *prover) rooms(ctx context.Context, only string, print bool) error {
	type one struct{ id, title string }
	all := []one{{"", "The home as a whole"}}
	for _, r := range w.project.Rooms {
		all = append(all, one{r.ID, r.Title()})
	}
	for _, r := range all {
		if only != "" && r.id != only {
			continue
		}
		verdicts, err := proof.Room(ctx, w.project, w.plan.Fitted, r.id, proof.Options{Faults: w.faults, Cache: w.cache})
		if err != nil {
			return status{badCall, err}
		}
		if len(verdicts) == 0 {
			continue
		}
		if w.blames, err = w.plan.Blames(ctx, w.project, r.id, verdicts, proof.Options{Faults: w.faults, Cache: w.cache}); err != nil {
			return status{badCall, err}
		}
		j, stories, err := w.room(ctx, r.id, r.title, verdicts)
		if err != nil {
			return err
		}
		if j.Applied, err = w.applied(ctx, r.id); err != nil {
			return status{badCall, err}
		}
		w.out.Rooms = append(w.out.Rooms, j)
		if print {
			w.print(j, stories)
		}
	}
	return nil
}

// room turns verdicts into what is printed; stories stand beside their promises.
func (w *prover) room(ctx context.Context, id, title string, verdicts []proof.Verdict) (provedRoomJSON, []story.Story, error) {
	j := provedRoomJSON{Room: id, Name: title, Assumptions: []assumptionJSON{}}
	stories := make([]story.Story, len(verdicts))
	for i, v := range verdicts {
		x := verdictJSON{
			ID: v.Promise.ID, Goal: v.Promise.Goal, Kind: string(v.Promise.Kind), Sentence: story.Sentence(v), Fault: string(v.Fault.Kind),
			Verdict: string(v.State), LeansOn: []int{}, Moving: int(v.Moving / time.Second), Why: v.Why, Untried: v.Untried, hollow: v.Hollow(),
		}
		for _, a := range v.Promise.Assumes {
			x.LeansOn = append(x.LeansOn, j.number(a))
		}
		for _, b := range w.blames {
			if b.Promise == v.Promise.ID && b.Fault == v.Fault {
				x.Limits, x.Limit = b.Limits, b.Text
			}
		}
		w.count(v.State)
		if v.State == proof.Breaks && len(v.Story) > 0 {
			s, err := story.Of(w.plan.Fitted, v)
			if err != nil {
				return j, nil, fmt.Errorf("the story of %s can't be told: %w", v.Promise.ID, err)
			}
			stories[i], x.Story = s, storyView(s)
		}
		var err error
		if x.Remedies, err = w.remedies(ctx, v); err != nil {
			return j, nil, status{badCall, err}
		}
		j.Promises = append(j.Promises, x)
	}
	return j, stories, nil
}

func (w *prover) count(s proof.State) {
	switch s {
	case proof.Kept:
		w.out.Kept++
	case proof.Breaks:
		w.out.Broken++
	case proof.Empty:
		w.out.Empty++
	default:
		w.out.Undecided++
	}
}

// number of an assumption in a room; a new one is added.
func (j *provedRoomJSON) number(a promises.Assumption) int {
	for _, x := range j.Assumptions {
		if x.ID == a.ID && x.Text == a.Text {
			return x.Number
		}
	}
	n := len(j.Assumptions) + 1
	j.Assumptions = append(j.Assumptions, assumptionJSON{n, a.ID, a.Text})
	return n
}

func storyView(s story.Story) *storyJSON {
	out := &storyJSON{Begins: story.Time(s.Begins), When: s.When, Broke: s.Broke}
	for _, l := range s.Lines {
		out.Lines = append(out.Lines, lineJSON{story.Time(l.Clock), l.At, l.Act, l.Text, append([]string{}, l.Then...)})
	}
	for _, t := range s.Tracks {
		x := trackJSON{Name: t.Name}
		for _, v := range t.Values {
			x.Values = append(x.Values, v.Text)
		}
		out.Tracks = append(out.Tracks, x)
	}
	return out
}

// look of what is printed: without colour, in ASCII where the terminal has nothing else.
func (w *prover) look() theme.Theme {
	o := theme.FromEnv(w.p.env)
	o.Colour = false
	return theme.New(lipgloss.NewRenderer(io.Discard), o)
}

func (w *prover) print(j provedRoomJSON, stories []story.Story) {
	out, t := w.p.out, w.look()
	fmt.Fprintf(out, "%s\n\n", j.Name)
	for i, x := range j.Promises {
		mark := map[string]string{"kept": t.Glyphs.Done, "broken": t.Glyphs.Broken, "empty": t.Glyphs.Note}[x.Verdict]
		if mark == "" {
			mark = t.Glyphs.Open
		}
		fmt.Fprintf(out, "%s\n", hang(fmt.Sprintf("  %s %-10s", mark, x.Verdict), x.Sentence+leans(x.LeansOn), w.width))
		if text := remark(x); text != "" {
			fmt.Fprintf(out, "%s\n", hang(strings.Repeat(" ", 14), text, w.width))
		}
		if x.Limit != "" {
			fmt.Fprintf(out, "%s\n", hang(strings.Repeat(" ", 14), x.Limit, w.width))
		}
		if x.Story != nil {
			w.story(stories[i], t)
		}
		w.mend(x.Remedies, t)
	}
	w.printApplied(j.Applied, t)
	if len(j.Assumptions) > 0 {
		fmt.Fprint(out, "\n  It is assumed that\n")
		for _, a := range j.Assumptions {
			fmt.Fprintf(out, "%s\n", hang(fmt.Sprintf("  %3d  ", a.Number), a.Text, w.width))
		}
	}
	fmt.Fprintln(out)
}

// leans lists the numbers of assumptions behind a sentence.
func leans(on []int) string {
	if len(on) == 0 {
		return ""
	}
	var words []string
	for _, n := range on {
		words = append(words, fmt.Sprint(n))
	}
	return " [" + strings.Join(words, ",") + "]"
}

// remark is what there is to add to a verdict.
func remark(x verdictJSON) string {
	switch {
	case x.Verdict == "empty":
		return x.hollow
	case x.Verdict == "undecided":
		return "Not decided: " + x.Why + "."
	case x.Why != "":
		return strings.ToUpper(x.Why[:1]) + x.Why[1:] + "."
	case x.Moving > 0:
		return fmt.Sprintf("It is kept if whoever is inside moves at least every %s.", q.Span(time.Duration(x.Moving)*time.Second))
	}
	return ""
}

// story prints the lines of a story by their times, and the strip chart.
func (w *prover) story(s story.Story, t theme.Theme) {
	const in = 14
	out := w.p.out
	since := 0
	for _, l := range s.Lines {
		since = max(since, len(story.Since(l.At)))
	}
	if s.When != "" {
		fmt.Fprintf(out, "%s\n", hang(strings.Repeat(" ", in), s.When, w.width))
	}
	fmt.Fprintln(out)
	for _, l := range s.Lines {
		lead := fmt.Sprintf("%s%s  +%-*s  ", strings.Repeat(" ", in), story.Time(l.Clock), since, story.Since(l.At))
		fmt.Fprintf(out, "%s\n", hang(lead, l.Text, w.width))
		if len(l.Then) > 0 {
			fmt.Fprintf(out, "%s\n", hang(strings.Repeat(" ", len(lead)+2), strings.Join(l.Then, "; "), w.width))
		}
	}
	fmt.Fprintf(out, "%s\n\n", hang(strings.Repeat(" ", in-2)+t.Glyphs.Broken+" ", s.Broke, w.width))
	for _, l := range strip.Draw(t, s, strip.None, max(w.width-in, 40), 100) {
		if l != "" {
			fmt.Fprintf(out, "%s%s\n", strings.Repeat(" ", in), l)
		}
	}
	fmt.Fprintln(out)
}

// hang wraps a text behind a lead of so many cells; its later lines stand under the first.
func hang(lead, text string, width int) string {
	n := len([]rune(lead))
	in := strings.Repeat(" ", max(n-2, 0)) // wrap sets later lines two cells further in
	lines := wrap(text, in, width)
	return lead + strings.TrimPrefix(lines, in)
}

// sum says how many promises there are of each verdict.
func (w *prover) sum(room string) {
	o := w.out
	if o.Kept+o.Broken+o.Empty+o.Undecided == 0 {
		fmt.Fprintln(w.p.out, "Nothing is promised yet: no goal of the briefs asks for it.")
		return
	}
	parts := []string{fmt.Sprintf("%d kept", o.Kept), fmt.Sprintf("%d broken", o.Broken)}
	if o.Empty > 0 {
		parts = append(parts, fmt.Sprintf("%d empty", o.Empty))
	}
	if o.Undecided > 0 {
		parts = append(parts, fmt.Sprintf("%d undecided", o.Undecided))
	}
	where := "In the home"
	if room != "" {
		where = "In this room"
	}
	fmt.Fprintf(w.p.out, "%s: %s.\n", where, strings.Join(parts, ", "))
}

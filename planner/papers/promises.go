package papers

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/story"
)

// Promises is the name of the paper of the promises.
const Promises = "promises.md"

const storyName = "promise-story-"

// OfPromises tells whether a paper is that of the promises, or a picture that it shows.
func OfPromises(name string) bool { return name == Promises || strings.HasPrefix(name, storyName) }

// Proved are the verdicts of one room; Room "" is the home as a whole.
type Proved struct {
	Room     string
	Verdicts []proof.Verdict
	Blames   []planner.Blame // limits that break some of them
}

// promiseSheet is what the briefs promise, room by room, with the verdicts, the stories of the broken and what
// it all leans on.
func (s source) promiseSheet() ([]Paper, error) {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# Promises: %s\n\n", text(s.homeName()))
	b.WriteString("Each promise of the briefs was proved or refuted on the planned rules, whatever people do and whenever they do it. " +
		"A verdict holds as far as what is assumed does; the numbers say which assumptions it leans on.\n\n")
	some, pictures := false, []Paper(nil)
	for _, r := range s.Proved {
		if len(r.Verdicts) == 0 {
			continue
		}
		some = true
		if err := s.roomPromises(&b, r, &pictures); err != nil {
			return nil, err
		}
	}
	if !some {
		b.WriteString("Nothing is promised yet: no goal of the briefs asks for it.\n\n")
	}
	s.cautions(&b, s.billCautions())
	fmt.Fprintf(&b, "---\n%s\n", text(s.foot()))
	return append([]Paper{{Promises, "the household, and whoever tests", b.Bytes()}}, pictures...), nil
}

func (s source) roomPromises(b *bytes.Buffer, r Proved, pictures *[]Paper) error {
	fmt.Fprintf(b, "## %s\n\n", text(s.roomName(r.Room)))
	var assumed []string
	for _, v := range r.Verdicts {
		var on []string
		for _, a := range v.Promise.Assumes {
			if !slices.Contains(assumed, a.Text) {
				assumed = append(assumed, a.Text)
			}
			on = append(on, fmt.Sprint(slices.Index(assumed, a.Text)+1))
		}
		leans := ""
		if len(on) > 0 {
			leans = " (" + strings.Join(on, ", ") + ")"
		}
		fmt.Fprintf(b, "- **%s**: %s%s\n", v.State, text(story.Sentence(v)), leans)
		if remark := s.remark(v); remark != "" {
			fmt.Fprintf(b, "  %s\n", text(remark))
		}
		for _, x := range r.Blames {
			if x.Promise == v.Promise.ID && x.Fault == v.Fault {
				fmt.Fprintf(b, "  %s\n", text(x.Text))
			}
		}
	}
	b.WriteString("\n")
	if len(assumed) > 0 {
		b.WriteString("It is assumed that\n\n")
		for i, a := range assumed {
			fmt.Fprintf(b, "%d. %s\n", i+1, text(a))
		}
		b.WriteString("\n")
	}
	for _, v := range r.Verdicts {
		if v.State == proof.Breaks && len(v.Story) > 0 {
			if err := s.storyOf(b, v, pictures); err != nil {
				return err
			}
		}
	}
	return nil
}

// remark is what there is to add to a verdict.
func (s source) remark(v proof.Verdict) string {
	switch {
	case v.State == proof.Empty:
		return v.Hollow()
	case v.State == proof.Undecided:
		return "Not decided: " + v.Why + "."
	case v.State == proof.Breaks && v.Why != "":
		return strings.ToUpper(v.Why[:1]) + v.Why[1:] + "."
	case v.State == proof.Breaks && v.Moving > 0:
		return fmt.Sprintf("It is kept if whoever is inside moves at least every %s.", q.Span(v.Moving))
	}
	return ""
}

// storyOf is a table of what comes about until a promise breaks, and a picture of it beside the paper.
func (s source) storyOf(b *bytes.Buffer, v proof.Verdict, pictures *[]Paper) error {
	told, err := story.Of(s.plan.Fitted, v)
	if err != nil {
		return fmt.Errorf("the story of %s can't be told: %w", v.Promise.ID, err)
	}
	fmt.Fprintf(b, "### How it breaks: %s\n\n| time | since | what happens | what the rules do |\n|---|---:|---|---|\n", text(story.Sentence(v)))
	for _, l := range told.Lines {
		fmt.Fprintf(b, "| %s | %s | %s | %s |\n", story.Time(l.Clock), story.Since(l.At), text(l.Text), text(strings.Join(l.Then, "; ")))
	}
	fmt.Fprintf(b, "\n%s\n\n", text(told.Broke))
	if picture := storyPicture(told, story.Sentence(v)); picture != nil {
		name := fmt.Sprintf("%s%d.svg", storyName, len(*pictures)+1)
		*pictures = append(*pictures, Paper{name, "whoever looks into how a promise breaks", picture})
		fmt.Fprintf(b, "![Each thing of this story as a strip](%s)\n\n", name)
	}
	return nil
}

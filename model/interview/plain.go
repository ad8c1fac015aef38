package interview

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode"

	"example.org/roombrief/model/projectfile"
)

// PlainOptions of an interview on plain lines.
type PlainOptions struct {
	Room  string    // id or name of the one room to ask about; "" asks which
	Who   string    // who will know what is parked, when nobody is named
	Today time.Time // dates what is parked and agreed
	Echo  bool      // print what was typed: input that isn't a terminal doesn't show itself
}

// PlainHelp lists what may be typed instead of an answer.
const PlainHelp = `Enter takes what stands in brackets. Instead of an answer you may type:
  ?               why this is asked, and what is accepted
  <               back to the question before
  skip            on to the next question, leaving this one open
  skip chapter    on to the next chapter
  defaults        take what is proposed for the rest of this chapter
  park [WHO]      make an open point of it: somebody else will know
  say WORDS       keep what was said, word for word
  quit            save and leave
A line that begins with = is an answer, whatever it says.
`

var errQuit = errors.New("quit")

// maxLine is the longest line that is taken as an answer, in bytes.
const maxLine = 16 << 10

// Plain asks the same questions line by line, for screen readers and scripts: no colours, no moving about.
// Each answer is saved as it comes. At the end of the input it stops with what was answered.
func Plain(ctx context.Context, d *projectfile.Document, opts PlainOptions, in io.Reader, out io.Writer,
	save func(*projectfile.Document) error) (*projectfile.Document, error) {
	p := &plain{d: d, opts: opts, out: bufio.NewWriter(out), save: save, lines: readLines(ctx, in), ctx: ctx, skipped: map[string]bool{}}
	err := p.run()
	switch {
	case errors.Is(err, errQuit):
		p.printf("Saved. %s\n", p.left())
		err = nil
	case errors.Is(err, io.EOF):
		p.printf("\nThe input ended here; what was answered is saved. %s\n", p.left())
		err = nil
	}
	if ferr := p.out.Flush(); err == nil {
		err = ferr
	}
	return p.d, err
}

type plain struct {
	d       *projectfile.Document
	opts    PlainOptions
	out     *bufio.Writer
	save    func(*projectfile.Document) error
	lines   <-chan line
	ctx     context.Context
	skipped map[string]bool // room + id of questions passed over in this sitting
}

// printf writes what anybody typed without the letters that steer a terminal.
func (p *plain) printf(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	fmt.Fprint(p.out, strings.Map(func(r rune) rune {
		if r != '\n' && unicode.IsControl(r) {
			return -1
		}
		return r
	}, text))
}

// prompt shows what is waited for and reads a line.
func (p *plain) prompt() (string, error) {
	p.printf("> ")
	if err := p.out.Flush(); err != nil {
		return "", err
	}
	select {
	case <-p.ctx.Done():
		return "", p.ctx.Err()
	case l, ok := <-p.lines:
		if !ok {
			return "", io.EOF
		}
		if l.err != nil && !errors.Is(l.err, io.EOF) {
			p.printf("%s.\n", l.err)
			return p.prompt()
		}
		text := strings.TrimSpace(strings.ToValidUTF8(l.text, ""))
		if p.opts.Echo && l.err == nil {
			p.printf("%s\n", text)
		}
		return text, l.err
	}
}

func (p *plain) run() error {
	p.printf("%s\n", PlainHelp)
	if p.opts.Room != "" {
		id, ok := p.roomCalled(p.opts.Room)
		if !ok {
			return fmt.Errorf("there is no room called %q in this home; there are: %s", p.opts.Room, p.roomNames())
		}
		return p.oneRoom(id)
	}
	if err := p.ask(""); err != nil {
		return err
	}
	for {
		id, err := p.which()
		if err != nil || id == "" {
			return err
		}
		if err := p.oneRoom(id); err != nil {
			return err
		}
	}
}

// oneRoom asks a room's questions, then what the home still lacks, and reads the brief back.
func (p *plain) oneRoom(id string) error {
	if err := p.ask(id); err != nil {
		return err
	}
	if err := p.ask(""); err != nil {
		return err
	}
	return p.readBack(id)
}

func (p *plain) keep(d *projectfile.Document) error {
	p.d = d
	if p.save == nil {
		return nil
	}
	return p.save(d)
}

// ask goes through the questions of a room, or of the home, until none is left for this sitting.
func (p *plain) ask(room string) error {
	var back *Question // the question that was gone back to
	chapter := Chapter("")
	for {
		qn, ok := p.next(room)
		if back != nil {
			qn, ok = *back, true
			back = nil
		}
		if !ok {
			return nil
		}
		if qn.Chapter != chapter {
			chapter = qn.Chapter
			p.printf("\n%s%s\n", p.heading(room), chapter)
		}
		to, err := p.one(qn)
		if err != nil {
			return err
		}
		back = to
	}
}

func (p *plain) heading(room string) string {
	for _, r := range p.d.Project().Rooms {
		if r.ID == room {
			return nameOf(r.Name, r.ID) + " - "
		}
	}
	return ""
}

// next is the first open question that was not passed over.
func (p *plain) next(room string) (Question, bool) {
	for _, qn := range All(p.d, room) {
		if !qn.Answered && !qn.Parked && !p.skipped[qn.Room+"|"+qn.ID] {
			return qn, true
		}
	}
	return Question{}, false
}

// one asks a question until it is answered or left; it gives the question to go back to, if any.
func (p *plain) one(qn Question) (*Question, error) {
	p.show(qn)
	for {
		text, err := p.prompt()
		if err != nil {
			return nil, err
		}
		word, rest, _ := strings.Cut(text, " ")
		rest = strings.TrimSpace(rest)
		switch {
		case text == "" && qn.Answered, text == "skip":
			p.skipped[qn.Room+"|"+qn.ID] = true
			return nil, nil
		case text == "quit":
			return nil, errQuit
		case text == "?":
			p.explain(qn)
			continue
		case text == "<":
			if before, ok := Before(p.d, qn); ok {
				return &before, nil
			}
			p.printf("This is the first question.\n")
			continue
		case text == "skip chapter":
			for _, x := range All(p.d, qn.Room) {
				if x.Chapter == qn.Chapter {
					p.skipped[x.Room+"|"+x.ID] = true
				}
			}
			return nil, nil
		}
		d, err := p.do(qn, text, word, rest)
		if err != nil {
			p.printf("%s.\n", begin(err.Error()))
			continue
		}
		if err := p.keep(d); err != nil {
			return nil, err
		}
		if word == "say" {
			p.printf("Kept, word for word.\n")
			continue
		}
		return nil, nil
	}
}

// do carries out what changes the project.
func (p *plain) do(qn Question, text, word, rest string) (*projectfile.Document, error) {
	switch {
	case strings.HasPrefix(text, "="):
		return Answer(p.d, qn, text[1:])
	case word == "park":
		if rest == "" {
			rest = p.opts.Who
		}
		return Park(p.d, qn, rest, p.opts.Today)
	case word == "say":
		if qn.Room == "" {
			return p.d, errors.New("words are kept with a room; say it again there")
		}
		return Say(p.d, qn.Room, GoalOf(qn.Chapter), rest)
	case text == "defaults":
		d, err := Answer(p.d, qn, "")
		if err != nil {
			return p.d, err
		}
		return AcceptChapter(d, qn.Room, qn.Chapter)
	}
	return Answer(p.d, qn, text)
}

func (p *plain) show(qn Question) {
	p.printf("\n%s\n", qn.Ask)
	p.printf("  Why: %s\n", qn.Why)
	if qn.Caution != "" {
		p.printf("  Caution: %s\n", qn.Caution)
	}
	for _, c := range qn.Choices {
		p.printf("  %s  %s", c.Key, c.Label)
		if c.Note != "" {
			p.printf(" (%s)", c.Note)
		}
		p.printf("\n")
	}
	if qn.Kind == Several {
		p.printf("  Type the keys of all that apply, or none.\n")
	}
	switch {
	case qn.Answered:
		p.printf("[%s] is written now; Enter keeps it\n", qn.Answer)
	default:
		p.printf("[%s]\n", qn.DefaultAs)
	}
}

func (p *plain) explain(qn Question) {
	p.printf("  %s\n", qn.Why)
	if qn.DefaultWhy != "" {
		p.printf("  Proposed is %s: %s.\n", qn.DefaultAs, qn.DefaultWhy)
	}
	if qn.Unit != "" {
		p.printf("  A bare number is taken as %s.\n", qn.Unit)
	}
	if qn.Example != "" {
		p.printf("  For example: %s\n", qn.Example)
	}
	if qn.CanBeUnknown {
		p.printf("  \"unknown\" is a good answer: it is planned for.\n")
	}
	p.printf("%s", PlainHelp)
}

func begin(text string) string {
	r := []rune(text)
	if len(r) == 0 {
		return text
	}
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

package tui

import (
	"errors"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/tui/page"
)

// Disk is where an opened file lives: model/store behind it, memory in tests.
type Disk interface {
	// Keep puts a draft beside the file, for the next start to offer.
	Keep(body []byte) error
	// Save makes body the file. It answers ErrElsewhere when somebody else changed the file since.
	Save(body []byte) error
	// Overwrite saves over a change made elsewhere; the other version is kept under the name it answers.
	Overwrite(body []byte) (kept string, err error)
	// Peek reads the file as it is now, for looking at.
	Peek() ([]byte, error)
	// Read reads the file as it is now and takes that as what was opened, so that a save replaces it.
	Read() ([]byte, error)
	// Aside keeps a body beside the file under a name of its own, which it answers.
	Aside(body []byte) (string, error)
	// Discard lets go of the draft.
	Discard() error
	// Remember puts the file on the list of recent ones.
	Remember()
	// Close gives the file back.
	Close() error
}

// ErrElsewhere says that the file was changed by something else since it was opened.
var ErrElsewhere = errors.New("the file was changed by another program")

// Opened is a file as it was found.
type Opened struct {
	Disk     Disk
	File     string
	Source   []byte
	Draft    []byte // edits of a run that did not end well; nil when there are none
	DraftAt  string // when they were made, to print
	DraftOld bool   // the file was changed after they were begun
	ReadOnly string // why it can't be changed, as a sentence; "" when it can
	Note     string // something to say once, "" when nothing
}

// write starts the next write that waits, if none runs.
func (r *root) write() tea.Cmd {
	s := r.session
	w, ok := s.saver.next()
	if !ok {
		return nil
	}
	disk := s.disk
	return func() tea.Msg {
		if w.draft {
			return written{w, disk.Keep(w.body)}
		}
		return written{w, disk.Save(w.body)}
	}
}

// save asks for the file itself to be written.
func (r *root) save() tea.Cmd {
	r.session.saver.wish(r.session.hist.now().Source(), false)
	return r.write()
}

// afterWrite goes on with the next write, leaves when that was waited for, or says what went wrong.
func (r *root) afterWrite(m written) tea.Cmd {
	s := r.session
	s.saver.done(m.what, m.err, s.hist.now().Source())
	if m.err != nil {
		return r.writeFailed(m)
	}
	if cmd := r.write(); cmd != nil {
		return cmd
	}
	if r.quitting && s.saver.idle() {
		return tea.Quit
	}
	return nil
}

func (r *root) writeFailed(m written) tea.Cmd {
	if r.leaving {
		r.abandoned, r.lastFault = true, m.err
		return tea.Quit
	}
	if errors.Is(m.err, ErrElsewhere) {
		r.over = r.changedElsewhere()
		r.quitting = false
		return nil
	}
	if !r.quitting {
		r.said = page.Say{Text: "Not saved: " + sentence(m.err.Error()), Alarm: true}
		return r.o.after(again, settled{r.session.gen}) // somebody may make room meanwhile
	}
	r.quitting = false
	r.over = &ask{
		head: "The file could not be saved", alarm: true,
		text: []string{sentence(m.err.Error())},
		picks: []pick{
			{key: "r", text: "try again", do: func(r *root) tea.Cmd { return r.quit() }},
			{key: "b", text: "back to the notebook", do: func(*root) tea.Cmd { return nil }},
			{key: "l", text: "leave without saving", note: "What was kept as a draft is offered on the next start.",
				do: func(r *root) tea.Cmd { r.abandoned = true; return tea.Quit }},
		},
		escape: func(*root) tea.Cmd { return nil },
	}
	return nil
}

// changedElsewhere asks which of two versions is to stay; neither is lost.
func (r *root) changedElsewhere() overlay {
	return &ask{
		head: "The file was changed elsewhere meanwhile",
		text: []string{r.session.file + " is no longer what was opened here: another program, or somebody's editor, wrote to it. " +
			"What you have done here is safe in a draft."},
		picks: []pick{
			{key: "m", text: "save mine", note: "The other version is kept beside the file under another name.", do: (*root).overwrite},
			{key: "t", text: "take theirs", note: "Yours stays within reach of undo.", do: (*root).takeTheirs},
			{key: "d", text: "look at the difference", note: "Minus is theirs, plus is yours.", do: (*root).showTheirs},
		},
		escape: func(r *root) tea.Cmd {
			r.said = page.Say{Text: "Not saved; it is asked again at the next change. The draft is kept."}
			return nil
		},
	}
}

// later is what is left to do on the screen's thread once a Cmd has done its part.
type later func(r *root) tea.Cmd

// overwrite saves over the other version, which is kept.
func (r *root) overwrite() tea.Cmd {
	s := r.session
	body, disk := s.hist.now().Source(), s.disk
	s.saver.busy = true
	return func() tea.Msg {
		kept, err := disk.Overwrite(body)
		return later(func(r *root) tea.Cmd {
			s.saver.done(write{body: body}, err, s.hist.now().Source())
			switch {
			case err != nil:
				r.said = page.Say{Text: "Not saved: " + sentence(err.Error()), Alarm: true}
			case kept == "":
				r.said = page.Say{Text: "Saved."}
			default:
				r.said = page.Say{Text: "Saved. The other version is kept as " + kept + "."}
			}
			return r.write()
		})
	}
}

// takeTheirs puts the version on disk in, as one step of undo, unless it has mistakes.
func (r *root) takeTheirs() tea.Cmd {
	disk := r.session.disk
	return func() tea.Msg {
		body, err := disk.Peek()
		doc := projectfile.Parse(body)
		if err == nil && doc.OK() {
			body, err = disk.Read()
			doc = projectfile.Parse(body)
		}
		return later(func(r *root) tea.Cmd {
			switch {
			case err != nil:
				r.said = page.Say{Text: "It could not be read: " + sentence(err.Error()), Alarm: true}
				return nil
			case !doc.OK():
				r.said = page.Say{Text: "Theirs has mistakes and was not taken: " + doc.Problems()[0].Error(), Alarm: true}
				return nil
			}
			cmd := r.change(doc, step{label: "taking the version from elsewhere"}, false, nil)
			return tea.Batch(cmd, r.save())
		})
	}
}

// showTheirs puts the difference under the question.
func (r *root) showTheirs() tea.Cmd {
	disk, mine, t := r.session.disk, r.session.hist.now().Source(), r.theme
	return func() tea.Msg {
		body, err := disk.Peek()
		long := diff(t, string(body), string(mine))
		return later(func(r *root) tea.Cmd {
			again := r.changedElsewhere().(*ask)
			if err != nil {
				again.text = append(again.text, "It could not be read: "+sentence(err.Error()))
			} else {
				again.long = long
			}
			r.over = again
			return nil
		})
	}
}

// quit saves what isn't saved and leaves.
func (r *root) quit() tea.Cmd {
	s := r.session
	if s == nil || s.readOnly != "" || s.saver.clean && s.saver.idle() {
		return tea.Quit
	}
	r.quitting = true
	if cmd := r.save(); cmd != nil {
		return cmd
	}
	return nil
}

// suspend saves and steps out to the shell.
func (r *root) suspend() tea.Cmd {
	if r.session == nil || r.session.readOnly != "" || r.session.saver.clean {
		return tea.Suspend
	}
	return tea.Sequence(r.save(), tea.Suspend)
}

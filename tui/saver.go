package tui

// saver decides what is written when: one write at a time, the last wish wins, a save outranks a draft.
// It does no writing itself.
type saver struct {
	busy  bool
	draft []byte // waiting to be kept beside the file
	save  []byte // waiting to become the file
	clean bool   // the file on disk is what is shown
	fault error  // why the last write failed; nil when it went well
}

// write is one write to carry out.
type write struct {
	body  []byte
	draft bool
}

// wish asks for a draft or a save; a newer wish replaces an older one of its kind.
func (s *saver) wish(body []byte, draft bool) {
	if draft {
		s.draft, s.clean = body, false
		return
	}
	s.save, s.draft = body, nil
}

// next is the write to start now.
func (s *saver) next() (write, bool) {
	if s.busy {
		return write{}, false
	}
	var w write
	switch {
	case s.save != nil:
		w = write{body: s.save}
		s.save = nil
	case s.draft != nil:
		w = write{body: s.draft, draft: true}
		s.draft = nil
	default:
		return write{}, false
	}
	s.busy = true
	return w, true
}

// done takes note of how a write ended.
func (s *saver) done(w write, err error, shown []byte) {
	s.busy, s.fault = false, err
	if err == nil && !w.draft {
		s.clean = string(w.body) == string(shown)
	}
}

// idle reports that nothing runs and nothing waits.
func (s *saver) idle() bool { return !s.busy && s.save == nil && s.draft == nil }

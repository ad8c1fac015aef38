package tui

import tea "github.com/charmbracelet/bubbletea"

// reason reckons why each line of the bill is what it is, and what would be next best.
func (r *root) reason(m planned) tea.Cmd {
	if m.err != nil || m.rest == nil {
		return nil
	}
	return safely(func() tea.Msg {
		b, err := m.rest()
		return reasoned{gen: m.gen, bill: b, err: err}
	})
}

// takeReasoned puts the bill with its reasons in the place of that without; the proof goes on with the plan that it has, which differs
// in nothing else.
func (r *root) takeReasoned(m reasoned) {
	if m.gen != r.plan.gen || m.err != nil {
		return
	}
	plan := *r.plan.plan
	plan.Bill = m.bill
	r.plan.plan = &plan
	r.show()
}

package page

import "example.org/roombrief/planner/remedy"

// Mends is what is known of the changes that would mend a broken promise. It is never changed once it has been
// shown.
type Mends struct {
	Room    string
	Promise string        // that was asked about
	Result  remedy.Result // when not Busy
	Busy    bool          // the search goes on
	Fault   error         // why there is no result
}

// Of is what is known about a promise of a room, and whether anything is.
func (m *Mends) Of(room, promise string) (Mends, bool) {
	if m == nil || m.Room != room || m.Promise != promise && !m.Result.Mends(promise) {
		return Mends{}, false
	}
	return *m, true
}

package keys

import "testing"

// A key means one thing on a page, and never one thing there and another everywhere.
func TestKeysOfAProjectAreFree(t *testing.T) {
	for _, g := range []Group{Rooms, Sheet, Ribbon, Plan, Bill, Rules} {
		taken := map[string]Command{}
		for _, b := range Everywhere.Bindings {
			for _, k := range b.Keys {
				taken[k] = b.Do
			}
		}
		for _, b := range g.Bindings {
			for _, k := range b.Keys {
				if other, ok := taken[k]; ok {
					t.Errorf("%s: %q is %q and %q", g.Page, k, b.Do, other)
				}
				taken[k] = b.Do
			}
			if b.Cap == "" || b.Help == "" {
				t.Errorf("%s: %q says nothing of itself", g.Page, b.Do)
			}
		}
	}
}

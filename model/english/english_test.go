package english

import "testing"

func TestFirstLetters(t *testing.T) {
	for _, c := range []struct{ in, upper, lower string }{
		{"", "", ""}, {"a", "A", "a"}, {"Hall", "Hall", "hall"}, {"hall", "Hall", "hall"}, {"WC", "WC", "WC"}, {"GU10 lamp", "GU10 lamp", "GU10 lamp"},
		{"B22 lamp", "B22 lamp", "B22 lamp"}, {"A lamp", "A lamp", "a lamp"}, {"élan", "Élan", "élan"}, {"Étage", "Étage", "étage"},
	} {
		if Upper(c.in) != c.upper || Lower(c.in) != c.lower {
			t.Errorf("%q: %q, %q", c.in, Upper(c.in), Lower(c.in))
		}
	}
}

func TestCountsAndLists(t *testing.T) {
	for _, c := range [][2]string{
		{Plural(1, "room"), "1 room"}, {Plural(0, "room"), "0 rooms"}, {Count(2, "battery", "batteries"), "2 batteries"},
		{Some(0, "room"), "no rooms"}, {Some(1, "room"), "one room"}, {Some(2, "room"), "2 rooms"},
		{List(nil), ""}, {List([]string{"a"}), "a"}, {List([]string{"a", "b"}), "a and b"}, {Join([]string{"a", "b", "c"}, "or"), "a, b or c"},
	} {
		if c[0] != c[1] {
			t.Errorf("%q, want %q", c[0], c[1])
		}
	}
}

package interview

import (
	"sync"
	"testing"

	"example.org/roombrief/model/projectfile"
)

var fortyOnce = sync.OnceValue(makeForty)

// forty is a home of forty finished rooms.
func forty(b *testing.B) *projectfile.Document {
	b.Helper()
	return fortyOnce()
}

func makeForty() *projectfile.Document {
	d := empty()
	accept := func(room string) {
		for {
			qn, ok := Next(d, room)
			if !ok {
				return
			}
			out, err := Answer(d, qn, "")
			if err != nil {
				panic(err)
			}
			d = out
		}
	}
	accept("")
	for i := range 40 {
		out, id, err := AddRoom(d, Kinds()[i%len(Kinds())].ID, "")
		if err != nil {
			panic(err)
		}
		d = out
		accept(id)
	}
	return projectfile.Parse(d.Source())
}

func BenchmarkAllOfOneRoomInForty(b *testing.B) {
	d := forty(b)
	rooms := d.Project().Rooms
	b.ReportAllocs()
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		if len(All(d, rooms[i%len(rooms)].ID)) == 0 {
			b.Fatal("no questions")
		}
	}
}

func BenchmarkAllOfFortyRooms(b *testing.B) {
	d := forty(b)
	rooms := d.Project().Rooms
	b.ReportAllocs()
	b.ResetTimer()
	for range b.N {
		All(d, "")
		for _, r := range rooms {
			All(d, r.ID)
		}
	}
}

func BenchmarkAnswerInForty(b *testing.B) {
	d := forty(b)
	all := All(d, d.Project().Rooms[20].ID)
	var qn Question
	for _, x := range all {
		if x.ID == "brief/lighting/stop/after" {
			qn = x
		}
	}
	b.ReportAllocs()
	b.ResetTimer()
	for i := range b.N {
		if _, err := Answer(d, qn, []string{"7m", "9m"}[i%2]); err != nil {
			b.Fatal(err)
		}
	}
}

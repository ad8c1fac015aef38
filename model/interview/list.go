package interview

import (
	"strings"

	"example.org/roombrief/model/projectfile"
)

// field is one key of an item, its value as YAML.
type field struct{ key, yaml string }

// item is one entry of a list that an answer names.
type item struct {
	id     string
	fields []field
}

func (it item) inline() string {
	parts := make([]string, 0, len(it.fields)+1)
	if it.id != "" {
		parts = append(parts, "id: "+projectfile.Quote(it.id))
	}
	for _, f := range it.fields {
		parts = append(parts, f.key+": "+f.yaml)
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// writeList makes a list hold just these items. What is in the file already keeps its place, its comments
// and every key that the answer does not speak of.
func (s *scope) writeList(path string, list []item) []projectfile.Edit {
	had := s.d.Keys(path)
	if len(had) == 0 {
		return []projectfile.Edit{projectfile.Set(path, blockOf(list))}
	}
	there, stays := map[string]bool{}, map[string]bool{}
	for _, id := range had {
		there[id] = true
	}
	var out []projectfile.Edit
	for _, it := range list {
		stays[it.id] = true
		if !there[it.id] {
			out = append(out, projectfile.Append(path, it.inline()))
			continue
		}
		for _, f := range it.fields {
			at := path + "/" + it.id + "/" + f.key
			if now, ok := s.d.Text(at); !ok || projectfile.Quote(now) != f.yaml {
				out = append(out, projectfile.Set(at, f.yaml))
			}
		}
	}
	for _, id := range had {
		if !stays[id] {
			out = append(out, projectfile.Remove(path+"/"+id))
		}
	}
	return out
}

// blockOf writes items one to a line; an empty list is [].
func blockOf(list []item) string {
	if len(list) == 0 {
		return "[]"
	}
	lines := make([]string, len(list))
	for i, it := range list {
		lines[i] = "- " + it.inline()
	}
	return strings.Join(lines, "\n")
}

// inlineList writes words as a list on one line.
func inlineList(words []string) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = projectfile.Quote(w)
	}
	return "[" + strings.Join(out, ", ") + "]"
}

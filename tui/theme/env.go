package theme

import "strings"

// FromEnv reads how to draw from the environment; it never asks the terminal.
//
//	ROOMBRIEF_THEME=light|dark   the background; dark when absent
//	ROOMBRIEF_GLYPHS=ascii|line  overrules what the locale says
//	NO_COLOR                     any value but "" draws without colour
//	TERM=dumb                    without colour, in ASCII
//	LC_ALL, LC_CTYPE, LANG       anything but UTF-8 draws in ASCII
func FromEnv(env func(string) string) Options {
	dumb := env("TERM") == "dumb" || env("TERM") == ""
	o := Options{
		Colour: env("NO_COLOR") == "" && !dumb,
		Dark:   !strings.EqualFold(env("ROOMBRIEF_THEME"), "light"),
		ASCII:  dumb || !utf8Locale(env),
	}
	switch strings.ToLower(env("ROOMBRIEF_GLYPHS")) {
	case "ascii":
		o.ASCII = true
	case "line":
		o.ASCII = false
	}
	return o
}

// utf8Locale follows the order in which a C library looks: the first that is set decides. With none set
// the locale is plain C, which has no line drawing; terminals of today still draw it, and those that
// don't are named by TERM, so unset counts as UTF-8 except on the console of the kernel.
func utf8Locale(env func(string) string) bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := env(name); v != "" {
			v = strings.ToLower(v)
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return env("TERM") != "linux"
}

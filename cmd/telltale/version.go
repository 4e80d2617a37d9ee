package main

import "runtime/debug"

// version is what the program was built from, as the Go tools stamp it.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "of unknown make"
	}
	out := info.Main.Version
	if out == "" || out == "(devel)" {
		out = "from a working copy"
	}
	return out + ", " + info.GoVersion
}

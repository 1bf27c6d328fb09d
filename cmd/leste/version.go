package main

import (
	"fmt"
	"runtime"
	"runtime/debug"
)

type versionCommand struct{}

// Run prints which build this is.
func (versionCommand) Run(p *program) error {
	version, revision := buildVersion()
	if p.options.JSON {
		return p.printJSON(map[string]any{"version": version, "revision": revision, "go": runtime.Version()})
	}
	return p.print(fmt.Appendf(nil, "leste %s (%s, %s)\n", version, revision, runtime.Version()))
}

func buildVersion() (version, revision string) {
	version, revision = "development", "revision not known"
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return version, revision
	}
	if v := info.Main.Version; v != "" && v != "(devel)" {
		version = v
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" {
			revision = s.Value
		}
	}
	return version, revision
}

package api

import (
	"context"
	"net/http"
	"slices"

	"github.com/danielgtaylor/huma/v2"

	"leste/drying"
)

// About is the program.
type About struct {
	Version string   `json:"version"`
	First   *string  `json:"first" doc:"Job that opens first; null for the list."`
	Demo    *string  `json:"demo" doc:"Job that a first visit opens: a demonstration without a file; null when one file is served."`
	One     bool     `json:"one" doc:"Only one file is served."`
	Methods []string `json:"methods"`
	Depths  []string `json:"depths" doc:"Of an answer, the quickest first."`
}

func (a *api) aboutOperations(h huma.API) {
	huma.Register(h, operation("about", http.MethodGet, "/about", "What this program is and where to begin", tagDesk, 500), a.about)
}

func (a *api) about(context.Context, *struct{}) (*struct{ Body About }, error) {
	return &struct{ Body About }{About{
		Version: a.Version, First: orNull(a.First), Demo: orNull(a.Demo), One: a.Folder.One() != "",
		Methods: slices.Clone(drying.MethodNames()), Depths: []string{"quick", "transport", "whole"},
	}}, nil
}

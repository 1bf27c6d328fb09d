// Package api gives the desk to programs: the open jobs, their answers and everything that is drawn from them, as
// HTTP operations that one OpenAPI document describes.
package api

//go:generate go run ./internal/page

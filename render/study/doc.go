// Package study writes the study of a search for a station: for people, and as JSON for programs.
package study

// Package form describes the job file as forms: groups of fields with their units, choices, usual values and the
// sources of these, made from the same struct tags as the file's reader and its documentation.
package form

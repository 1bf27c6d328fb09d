// Package answer keeps what has been calculated for the jobs that are open on the desk: one answer for each depth,
// asked for once however many tabs wait for it, dropped as soon as the job has changed.
package answer

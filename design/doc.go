// Package design finds a station for a job: it searches concepts, sizes, places and settings for what meets every
// requirement of every format at the least yearly cost, and says why one wins and what the others fail on.
//
// The search is pure and seeded: the same job, seed and budget give the same study on one core or many. It follows
// the water by transport on coarse cells, with the air supply in the loop, then on finer ones, and has its answers
// confirmed, and its sights corrected, by a whole assessment.
package design

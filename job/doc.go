// Package job holds what the user tells Leste: the nouns of a job, the job file that carries them with
// units, its schema, the located errors of a wrong file, and the values assumed where nobody knew.
//
// The struct tags of the nouns are the one parameter schema. The reader, the JSON Schema, the starter
// file, the forms of the desk and the documentation are all made from them:
//
//	key      the key in the file
//	doc      one sentence for the user
//	need     "yes" when the key must be given
//	default  the value assumed when nobody gave one, in the syntax of the file
//	low,high the range that the default may be off by
//	source   what the default rests on
//	min,max  the limits of what can be meant; those of its kind of quantity when left out
//	one      the choices of a string, separated by "|"
//
// Coordinates: x along travel, y to the left of travel, z up from the belt. The datum of a station is a
// point on the line's centre at belt height.
package job

// Package relation holds what is known about each published formula Leste uses, as data: its card.
//
// The range check, the documentation page, the command line's help and a report's list of sources all read
// the card; nothing of it is typed twice. A Registry is an immutable set of cards built explicitly from the
// lists of the packages that own the relations; nothing registers itself on import.
package relation

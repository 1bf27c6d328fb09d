package study

import "reflect"

// Type is the Go type of the document that JSON writes, for descriptions that are made by reflection.
func Type() reflect.Type { return reflect.TypeFor[document]() }

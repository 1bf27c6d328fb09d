package asjson

import "reflect"

// ResultType is the Go type of the document that Result writes, for descriptions that are made by reflection.
func ResultType() reflect.Type { return reflect.TypeFor[result]() }

// CardType is the Go type of the document that Card writes.
func CardType() reflect.Type { return reflect.TypeFor[card]() }

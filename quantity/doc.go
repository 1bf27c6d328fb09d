// Package quantity holds the physical quantities of Leste as named types in SI units.
//
// Two values that could be confused have two types: gauge and absolute pressure, a temperature and a
// temperature difference, a length and an area. Values are SI everywhere inside the program; units
// are parsed and printed only at the edges, by Parse and Format.
package quantity

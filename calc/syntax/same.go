package syntax

import (
	"reflect"

	"workings/calc/diag"
)

// Same reports whether two sheets say the same: the same lines with the same
// names, numbers, units, texts and captions, wherever they stand in their files.
func Same(a, b *Sheet) bool { return same(reflect.ValueOf(a), reflect.ValueOf(b)) }

// spanType is that of the places, the only thing in which such sheets differ.
var spanType = reflect.TypeFor[diag.Span]()

// same compares trees of the types in ast.go, which hold no map and no circle.
// Going over their fields here, and not over each type by hand, leaves no field
// out that is added there.
func same(a, b reflect.Value) bool {
	if a.IsValid() != b.IsValid() {
		return false
	}
	if !a.IsValid() {
		return true
	}
	if a.Type() != b.Type() {
		return false
	}
	switch a.Kind() {
	case reflect.Pointer, reflect.Interface:
		if a.IsNil() || b.IsNil() {
			return a.IsNil() == b.IsNil()
		}
		if a.Type() == fileType {
			return true
		}
		return same(a.Elem(), b.Elem())
	case reflect.Slice:
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !same(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Struct:
		if a.Type() == spanType {
			return true
		}
		for i := range a.NumField() {
			if !same(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	}
	return a.Equal(b)
}

var fileType = reflect.TypeFor[*diag.File]()

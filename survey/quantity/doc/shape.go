package doc

import (
	"errors"
	"reflect"

	"github.com/go-playground/validator/v10"
)

var checker = func() *validator.Validate {
	v := validator.New(validator.WithRequiredStructEnabled())
	v.RegisterTagNameFunc(Name)
	return v
}()

// ShapeFaults runs the validator on a filled struct, by its validate tags. Namespaces
// are made of yaml names.
func ShapeFaults(filled any) []validator.FieldError {
	err := checker.Struct(filled)
	var faults validator.ValidationErrors
	if err != nil && !errors.As(err, &faults) {
		panic("doc: " + reflect.TypeOf(filled).String() + " can't be validated: " + err.Error())
	}
	return faults
}

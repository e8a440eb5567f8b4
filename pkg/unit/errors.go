package unit

// Errorf is an error with amounts in its text, made like Say: an Amount itself. It
// wraps the errors among its arguments, which are printed with %v.
func Errorf(format string, args ...any) error { return &sentence{Say(format, args...)} }

// A sentence is an error that is a text.
type sentence struct{ Text }

// Error is the text with its amounts in mm.
func (s *sentence) Error() string { return s.String() }

// Unwrap returns the errors that the text is made of.
func (s *sentence) Unwrap() []error {
	var errs []error
	for _, a := range s.args {
		if err, ok := a.(error); ok {
			errs = append(errs, err)
		}
	}
	return errs
}

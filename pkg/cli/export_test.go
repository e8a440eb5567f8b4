package cli

// OnOperation has f called before everything that a build does to its folder.
func OnOperation(f func()) { operation = f }

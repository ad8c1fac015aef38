package bill

// TryRoutes sets how many routes of a home are tried one by one before all is put into one program, and gives a function that
// sets it back.
func TryRoutes(n int) (back func()) {
	was := routes
	routes = n
	return func() { routes = was }
}

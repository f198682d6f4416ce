// Package web makes the pages: one http.Handler that is a function of what is kept and of the engine. It knows nothing
// about where it runs, keeps no cookie and no session, and writes nothing but journal entries; whoever serves it says who
// is asking.
package web

//go:generate go run github.com/a-h/templ/cmd/templ@v0.3.1100 generate

// Package house holds the tests of the house rules: which room may import which,
// what the core may not do, how long files are, which names stand at the top, and
// what no file may say. Run it with go test ./internal/house.
//
// It has no code of its own. Each check is a function from files to complaints,
// tried on a bad example under testdata as well as on the whole tree, so that a
// check that cannot fail is noticed.
package house

// Package plan reads and writes plans of exercises: TOML files whose keys stand in
// plan.schema.json. Read checks one from a reader, Find gives a built-in one by its
// name, Builtin lists these in teaching order, Write writes one. What the exercises
// are is in package exercise; a plan only orders them.
//
// It refuses unknown keys (with their line), exercises that do not exist, plans
// without steps and numbers that make no sense. It opens no file by itself.
package plan

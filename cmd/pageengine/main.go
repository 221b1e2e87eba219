//go:build js && wasm

// Command pageengine is the coach for the phone's page, built for WebAssembly. It
// puts one function into the worker that runs it: helmcueHear takes a message as
// text and returns what it caused as text, a JSON array, or an Error that says what
// was refused. It then calls helmcueReady, and lives until its worker ends.
package main

import (
	"syscall/js"

	"helmcue/internal/page"
)

func main() {
	eng := page.New()
	failed := js.Global().Get("Error")
	hear := js.FuncOf(func(_ js.Value, args []js.Value) any {
		out, err := eng.Hear([]byte(args[0].String()))
		if out == nil && err != nil {
			return failed.New(err.Error()) // what is thrown from here would end the program
		}
		return string(out)
	})
	js.Global().Set("helmcueHear", hear)
	js.Global().Call("helmcueReady")
	select {}
}

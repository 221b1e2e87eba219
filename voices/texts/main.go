// Command texts prints every text that must exist as a clip: the clip's name, a
// tab, the text. make-clips.sh reads it.
package main

import (
	"fmt"

	"helmcue/internal/phrase"
)

func main() {
	for _, t := range phrase.Texts() {
		fmt.Printf("%s\t%s\n", phrase.Clip(t), t)
	}
}

//go:build nosound

package speaker

import "errors"

func openDevice() (output, error) {
	return nil, errors.New("this program was built without sound; install libasound2-dev and build again")
}

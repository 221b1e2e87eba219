//go:build nosound || !(cgo || darwin || windows)

package speaker

import "errors"

const built = "without the loudspeaker: this machine stays silent, and phones speak"

func openDevice() (output, error) {
	return nil, errors.New("this program was built without sound; install libasound2-dev and a C compiler, and build again")
}

//go:build !race

package recording

// cutStep cuts at every byte.
const cutStep = 1

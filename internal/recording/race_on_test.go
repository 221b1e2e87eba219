//go:build race

package recording

// cutStep thins the cuts out where each costs ten times as much.
const cutStep = 17

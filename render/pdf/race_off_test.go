//go:build !race

package pdf

// raceOn says that the race detector slows the tests down.
const raceOn = false

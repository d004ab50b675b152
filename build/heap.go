package build

import (
	"runtime"
	"runtime/debug"
	"runtime/metrics"
)

// Memory is how much memory, in bytes, a program that publishes may take before
// it collects garbage (UseMemory): with it a manual of a thousand pages is
// published in less than 300 MB.
const Memory = 240 << 20

// UseMemory lets the program take memory up to a size, in bytes, before garbage
// is collected, and twice what is in use where that is more: a program that
// ends soon need not collect early what it has room for. It holds until the
// program ends.
func UseMemory(size int64) {
	live := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
	metrics.Read(live)
	debug.SetMemoryLimit(max(size, int64(live[0].Value.Uint64())*2))
	debug.SetGCPercent(-1)
	// What nobody holds is cleared away with the next collection, which says
	// that there was one.
	runtime.AddCleanup(new([4]int64), UseMemory, size)
}

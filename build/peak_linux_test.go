package build

import (
	"os"
	"syscall"
)

// peakMemory is the most memory that a process that has ended took, in MB.
func peakMemory(p *os.ProcessState) float64 {
	if u, ok := p.SysUsage().(*syscall.Rusage); ok {
		return float64(u.Maxrss) / 1024
	}
	return 0
}

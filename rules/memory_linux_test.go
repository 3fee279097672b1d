package rules

import (
	"os"
	"syscall"
)

// mostMemory is the most memory that a process held, in kB.
func mostMemory(p *os.ProcessState) int64 {
	return p.SysUsage().(*syscall.Rusage).Maxrss
}

package journal

import (
	"bytes"
	"fmt"
	"os"
	"strings"
)

// startOf is when a process started: the boot of the machine and the clock ticks since (proc(5), field 22 of stat).
// It is empty where there is no such process.
func startOf(pid int) string {
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return ""
	}
	// The second field is the program's name in brackets and may hold blanks and brackets.
	i := bytes.LastIndexByte(stat, ')')
	fields := strings.Fields(string(stat[i+1:]))
	if i < 0 || len(fields) < 20 {
		return ""
	}
	boot, _ := os.ReadFile("/proc/sys/kernel/random/boot_id")
	return strings.TrimSpace(string(boot)) + "/" + fields[19]
}

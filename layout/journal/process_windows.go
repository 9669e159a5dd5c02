package journal

import (
	"strconv"

	"golang.org/x/sys/windows"
)

// stillActive is the exit code of a process that has not ended (STILL_ACTIVE).
const stillActive = 259

// alive tells whether there is a process of that number.
func alive(pid int) bool {
	h, err := windows.OpenProcess(windows.PROCESS_QUERY_LIMITED_INFORMATION, false, uint32(pid))
	if err != nil {
		return err == windows.ERROR_ACCESS_DENIED
	}
	defer windows.CloseHandle(h)
	var code uint32
	return windows.GetExitCodeProcess(h, &code) != nil || code == stillActive
}

// startOf is when a process started; empty where that cannot be told.
func startOf(pid int) string {
	h, err := windows.OpenProcess(windows.PROCESS_QUERY_LIMITED_INFORMATION, false, uint32(pid))
	if err != nil {
		return ""
	}
	defer windows.CloseHandle(h)
	var made, ended, kernel, user windows.Filetime
	if windows.GetProcessTimes(h, &made, &ended, &kernel, &user) != nil {
		return ""
	}
	return strconv.FormatInt(made.Nanoseconds(), 10)
}

package layout

import "golang.org/x/sys/windows"

// errQuota is what the system gives when the disk is full.
const errQuota = windows.ERROR_DISK_FULL

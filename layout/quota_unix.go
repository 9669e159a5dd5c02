//go:build !windows

package layout

import "syscall"

// errQuota is what the system gives when a user's share of the disk is used up.
const errQuota = syscall.EDQUOT

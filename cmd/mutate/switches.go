package main

import (
	"fmt"
	"strings"
)

// switches is the source of the file that is added to a package with so many switches: the one for recording which of them
// the tests come by, or the one for trying.
func switches(name string, count int, recording bool) string {
	is := "func mutateIs(i int) bool { return mutateOn == i }\n"
	if recording {
		is = fmt.Sprintf(recorder, count)
	}
	return strings.Replace(switchSource, "PACKAGE", name, 1) + is
}

// A change that makes a test gather without end counts as noticed before the machine suffers.
const switchSource = `package PACKAGE

import (
	"fmt"
	"os"
	"runtime/metrics"
	"strconv"
	"sync/atomic"
	"time"
)

var mutateOn = mutateChosen()

func mutateChosen() int {
	on, err := strconv.Atoi(os.Getenv("MUTATE_ON"))
	if err != nil {
		return -1
	}
	go mutateWatch()
	return on
}

func mutateWatch() {
	held := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	for {
		if metrics.Read(held); held[0].Value.Uint64() > 3<<30 {
			fmt.Println("holds more than 3 GB")
			os.Exit(3)
		}
		time.Sleep(50 * time.Millisecond)
	}
}

type mutateNumber interface {
	~int | ~int8 | ~int16 | ~int32 | ~int64 | ~uint | ~uint8 | ~uint16 | ~uint32 | ~uint64 | ~uintptr | ~float32 | ~float64 | ~complex64 | ~complex128
}

func mutateChoice[T any](i int, changed, is T) T {
	if mutateIs(i) {
		return changed
	}
	return is
}

func mutateSum[T mutateNumber](i int, a, b T) T {
	if mutateIs(i) {
		return a - b
	}
	return a + b
}

func mutateDifference[T mutateNumber](i int, a, b T) T {
	if mutateIs(i) {
		return a + b
	}
	return a - b
}

func mutateProduct[T mutateNumber](i int, a, b T) T {
	if mutateIs(i) {
		return a / b
	}
	return a * b
}

func mutateQuotient[T mutateNumber](i int, a, b T) T {
	if mutateIs(i) {
		return a * b
	}
	return a / b
}

func mutateNegative[T mutateNumber](i int, a T) T {
	if mutateIs(i) {
		return a
	}
	return -a
}

type mutateBool = atomic.Bool
`

// recorder appends the number of each change that is come by to a file, once.
const recorder = `
var mutateSeen [%d]mutateBool

var mutateFile, _ = os.OpenFile(os.Getenv("MUTATE_REACHED"), os.O_WRONLY|os.O_APPEND, 0)

func mutateIs(i int) bool {
	if !mutateSeen[i].Load() && mutateSeen[i].CompareAndSwap(false, true) {
		fmt.Fprintln(mutateFile, i)
	}
	return false
}
`

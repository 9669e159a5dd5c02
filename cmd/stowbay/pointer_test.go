package main

import (
	little "encoding/binary"
	"fmt"
	"time"
)

// pointer moves the mouse of a virtual display without starting a program for every step, and says when it did, by the
// XTEST extension's FakeInput (XTEST Extension Protocol, version 2.2).
type pointer struct {
	*client
	opcode byte // of XTEST on this server
}

// newPointer connects to a display ":n" of this machine.
func newPointer(display string) (*pointer, error) {
	c, err := connect(display)
	if err != nil {
		return nil, err
	}
	const queryExtension = 98
	name := "XTEST"
	if err := c.send(queryExtension, 0, append([]byte{byte(len(name)), 0, 0, 0}, name...)); err != nil {
		return nil, err
	}
	reply, err := c.receive()
	if err != nil {
		return nil, err
	}
	if reply[8] == 0 {
		return nil, fmt.Errorf("the display lacks XTEST")
	}
	return &pointer{c, reply[9]}, nil
}

// Kinds of events that FakeInput makes.
const (
	pressed  = 4
	released = 5
	movedTo  = 6
)

// fake makes an event and returns when.
func (p *pointer) fake(kind, button byte, x, y int) (time.Time, error) {
	const fakeInput = 2
	body := make([]byte, 32)
	body[0], body[1] = kind, button
	little.LittleEndian.PutUint16(body[20:], uint16(x))
	little.LittleEndian.PutUint16(body[22:], uint16(y))
	at := time.Now()
	return at, p.send(p.opcode, fakeInput, body)
}

package main

import (
	little "encoding/binary"
	"fmt"
	"io"
	"net"
	"strings"
	"time"
)

// pointer moves the mouse of a virtual display without starting a program for every step, and says when it did. It speaks
// the X protocol's set-up, QueryExtension and the XTEST extension's FakeInput (X Window System Protocol, X Version 11,
// appendix B; XTEST Extension Protocol, version 2.2).
type pointer struct {
	net.Conn
	opcode byte // of XTEST on this server
}

// newPointer connects to a display ":n" of this machine.
func newPointer(display string) (*pointer, error) {
	c, err := net.Dial("unix", "/tmp/.X11-unix/X"+strings.TrimPrefix(display, ":"))
	if err != nil {
		return nil, err
	}
	p := &pointer{Conn: c}
	if err := p.setUp(); err != nil {
		return nil, err
	}
	return p, p.findXTEST()
}

// setUp greets the server in little-endian order, protocol 11.0, without authorisation.
func (p *pointer) setUp() error {
	if _, err := p.Write([]byte{'l', 0, 11, 0, 0, 0, 0, 0, 0, 0, 0, 0}); err != nil {
		return err
	}
	head := make([]byte, 8)
	if _, err := io.ReadFull(p, head); err != nil {
		return err
	}
	if head[0] != 1 {
		return fmt.Errorf("the display refuses the connection")
	}
	_, err := io.CopyN(io.Discard, p, 4*int64(little.LittleEndian.Uint16(head[6:])))
	return err
}

func (p *pointer) findXTEST() error {
	const queryExtension = 98
	name := "XTEST"
	req := append([]byte{queryExtension, 0, 4, 0, byte(len(name)), 0, 0, 0}, name+"\x00\x00\x00"...)
	if _, err := p.Write(req); err != nil {
		return err
	}
	reply := make([]byte, 32)
	if _, err := io.ReadFull(p, reply); err != nil {
		return err
	}
	if reply[8] == 0 {
		return fmt.Errorf("the display lacks XTEST")
	}
	p.opcode = reply[9]
	return nil
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
	req := make([]byte, 36)
	req[0], req[1], req[2] = p.opcode, fakeInput, 9
	req[4], req[5] = kind, button
	little.LittleEndian.PutUint16(req[24:], uint16(x))
	little.LittleEndian.PutUint16(req[26:], uint16(y))
	at := time.Now()
	_, err := p.Write(req)
	return at, err
}

package main

import (
	little "encoding/binary"
	"fmt"
	"io"
	"net"
	"strings"
)

// client is a connection to a virtual display. It speaks the X protocol in little-endian order (X Window System Protocol, X
// Version 11, chapters 8 to 10 and appendix B).
type client struct {
	net.Conn
	root uint32 // the screen's window
	next uint32 // the next name for something made on this connection
}

// connect greets a display ":n" of this machine, protocol 11.0, without authorisation.
func connect(display string) (*client, error) {
	conn, err := net.Dial("unix", "/tmp/.X11-unix/X"+strings.TrimPrefix(display, ":"))
	if err != nil {
		return nil, err
	}
	c := &client{Conn: conn}
	if _, err := c.Write([]byte{'l', 0, 11, 0, 0, 0, 0, 0, 0, 0, 0, 0}); err != nil {
		return nil, err
	}
	head := make([]byte, 8)
	if _, err := io.ReadFull(c, head); err != nil {
		return nil, err
	}
	if head[0] != 1 {
		return nil, fmt.Errorf("the display refuses the connection")
	}
	info := make([]byte, 4*int(little.LittleEndian.Uint16(head[6:])))
	if _, err := io.ReadFull(c, info); err != nil {
		return nil, err
	}
	vendor, formats := int(little.LittleEndian.Uint16(info[16:])), int(info[21])
	c.next = little.LittleEndian.Uint32(info[4:])
	c.root = little.LittleEndian.Uint32(info[32+padded(vendor)+8*formats:])
	return c, nil
}

// padded is a length up to the next multiple of four.
func padded(n int) int { return (n + 3) &^ 3 }

// send makes a request: opcode, the byte beside it, what follows.
func (c *client) send(opcode, detail byte, body []byte) error {
	req := make([]byte, 4+padded(len(body)))
	req[0], req[1] = opcode, detail
	little.LittleEndian.PutUint16(req[2:], uint16(len(req)/4))
	copy(req[4:], body)
	_, err := c.Write(req)
	return err
}

// receive reads a reply, an event or an error; a reply's further data come with it.
func (c *client) receive() ([]byte, error) {
	head := make([]byte, 32)
	if _, err := io.ReadFull(c, head); err != nil {
		return nil, err
	}
	switch head[0] {
	case 0:
		return nil, fmt.Errorf("the display answers error %d to request %d", head[1], head[10])
	case 1:
		more := make([]byte, 4*int(little.LittleEndian.Uint32(head[4:])))
		_, err := io.ReadFull(c, more)
		return append(head, more...), err
	}
	return head, nil
}

// words are numbers of 32 bits as they go over the line.
func words(ns ...uint32) []byte {
	var out []byte
	for _, n := range ns {
		out = little.LittleEndian.AppendUint32(out, n)
	}
	return out
}

// word is the number of 32 bits at a place.
func word(b []byte, at int) uint32 { return little.LittleEndian.Uint32(b[at:]) }

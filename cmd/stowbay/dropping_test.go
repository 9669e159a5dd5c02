package main

import (
	little "encoding/binary"
	"errors"
	"fmt"
	"net/url"
	"strings"
	"time"
)

// source is a program from which files are dragged: it owns the selection of a drag and hands its contents over (Drag-and-Drop
// Protocol for the X Window System, version 5; Inter-Client Communication Conventions Manual, section 2).
type source struct {
	*client
	window uint32
	atoms  map[string]uint32
	uris   []byte
}

// Opcodes of requests and codes of events that a drag takes.
const (
	createWindow      = 1
	internAtom        = 16
	changeProperty    = 18
	getProperty       = 20
	setSelectionOwner = 22
	sendEvent         = 25

	selectionRequest = 30
	selectionNotify  = 31
	clientMessage    = 33
)

// newSource connects to a display with files to drag.
func newSource(display string, paths []string) (*source, error) {
	c, err := connect(display)
	if err != nil {
		return nil, err
	}
	s := &source{client: c, window: c.next, atoms: map[string]uint32{}}
	for _, path := range paths {
		s.uris = append(s.uris, (&url.URL{Scheme: "file", Path: path}).String()+"\r\n"...)
	}
	const inputOnly = 2
	if err := s.send(createWindow, 0, words(s.window, s.root, 0, 1|1<<16, inputOnly<<16, 0, 0)); err != nil {
		return nil, err
	}
	for _, name := range []string{"XdndAware", "XdndSelection", "XdndEnter", "XdndPosition", "XdndStatus", "XdndDrop", "XdndFinished", "XdndActionCopy", "text/uri-list"} {
		if err := s.intern(name); err != nil {
			return nil, err
		}
	}
	return s, s.send(setSelectionOwner, 0, words(s.window, s.atoms["XdndSelection"], 0))
}

func (s *source) intern(name string) error {
	if err := s.send(internAtom, 0, append([]byte{byte(len(name)), 0, 0, 0}, name...)); err != nil {
		return err
	}
	reply, err := s.receive()
	if err == nil {
		s.atoms[name] = word(reply, 8)
	}
	return err
}

// aware is the version of the protocol that a window takes part in; 0: it does not.
func (s *source) aware(window uint32) (uint32, error) {
	if err := s.send(getProperty, 0, words(window, s.atoms["XdndAware"], 0, 0, 1)); err != nil {
		return 0, err
	}
	reply, err := s.receive()
	if err != nil || len(reply) < 36 {
		return 0, err
	}
	return word(reply, 32), nil
}

// tell sends a window a message of the protocol.
func (s *source) tell(window uint32, message string, data ...uint32) error {
	event := make([]byte, 12)
	event[0], event[1] = clientMessage, 32
	little.LittleEndian.PutUint32(event[4:], window)
	little.LittleEndian.PutUint32(event[8:], s.atoms[message])
	event = append(event, words(append([]uint32{s.window}, data...)...)...)
	return s.send(sendEvent, 0, append(words(window, 0), append(event, make([]byte, 32-len(event))...)...))
}

// answered waits for a message of the protocol, handing the contents over meanwhile, and returns its flags.
func (s *source) answered(message string) (uint32, error) {
	for {
		got, err := s.receive()
		if err != nil {
			return 0, fmt.Errorf("waiting for %s: %w", message, err)
		}
		switch code := got[0] &^ 0x80; {
		case code == selectionRequest:
			err = s.handOver(got)
		case code == clientMessage && word(got, 8) == s.atoms[message]:
			return word(got, 16), nil
		}
		if err != nil {
			return 0, err
		}
	}
}

// handOver answers who asks for the contents.
func (s *source) handOver(request []byte) error {
	at, requestor, selection, target, property := word(request, 4), word(request, 12), word(request, 16), word(request, 20), word(request, 24)
	if target != s.atoms["text/uri-list"] {
		property = 0
	} else if err := s.send(changeProperty, 0, append(words(requestor, property, target, 8, uint32(len(s.uris))), s.uris...)); err != nil {
		return err
	}
	event := append([]byte{selectionNotify, 0, 0, 0}, words(at, requestor, selection, target, property, 0, 0)...)
	return s.send(sendEvent, 0, append(words(requestor, 0), event...))
}

var (
	errUnaware = errors.New("the window takes no part in drag and drop")
	errRefused = errors.New("the window refuses what is dragged over it")
	errLost    = errors.New("the window did not take what was dropped")
)

// drop drags the files over a place of a window, in steps as a hand does, and lets go.
func (s *source) drop(window uint32, x, y int) error {
	const version = 5
	if err := s.SetDeadline(time.Now().Add(30 * time.Second)); err != nil {
		return err
	}
	if v, err := s.aware(window); err != nil || v < version {
		return errors.Join(err, fmt.Errorf("%w: version %d", errUnaware, v))
	}
	if err := s.tell(window, "XdndEnter", version<<24, s.atoms["text/uri-list"]); err != nil {
		return err
	}
	for back := 20; back >= 0; back -= 10 {
		if err := s.tell(window, "XdndPosition", 0, uint32(x-back)<<16|uint32(y-back), 0, s.atoms["XdndActionCopy"]); err != nil {
			return err
		}
		if flags, err := s.answered("XdndStatus"); err != nil || flags&1 == 0 {
			return errors.Join(err, errRefused)
		}
	}
	if err := s.tell(window, "XdndDrop", 0, 0); err != nil {
		return err
	}
	// The toolkit answers with how many bytes it took, where the protocol wants a 1 in the lowest bit.
	if flags, err := s.answered("XdndFinished"); err != nil || flags == 0 {
		return errors.Join(err, errLost)
	}
	return nil
}

// dropFiles drops files on a place of the program's window.
func (d *desk) dropFiles(x, y int, paths ...string) {
	d.t.Helper()
	s, err := newSource(d.display, paths)
	if err != nil {
		d.t.Fatal(err)
	}
	defer s.Close()
	var window uint32
	if _, err := fmt.Sscan(d.windows()[0], &window); err != nil {
		d.t.Fatal(err)
	}
	if err := s.drop(window, x, y); err != nil {
		d.t.Fatalf("dropping %s: %v", strings.Join(paths, ", "), err)
	}
	d.pause()
}

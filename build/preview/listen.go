package preview

import (
	"errors"
	"fmt"
	"net"
	"net/netip"
	"syscall"

	"golang.org/x/net/netutil"
)

// FirstPort is where a preview listens unless that port is taken.
const FirstPort = 8017

// maxConns is how many connections are open at a time; more wait their turn.
const maxConns = 400

// tries is how many further ports are tried.
const tries = 20

// Loopback is the address that no other computer can reach.
var Loopback = netip.AddrFrom4([4]byte{127, 0, 0, 1})

// Listen opens a port on an address of this computer: the port asked for, or,
// if that is 0, FirstPort or the next free one.
func Listen(on netip.Addr, port int) (net.Listener, error) {
	if port != 0 {
		return listenOn(on, port)
	}
	for port = FirstPort; ; port++ {
		l, err := listenOn(on, port)
		if err == nil || !errors.Is(err, syscall.EADDRINUSE) || port == FirstPort+tries {
			return l, err
		}
	}
}

func listenOn(on netip.Addr, port int) (net.Listener, error) {
	l, err := net.Listen("tcp", netip.AddrPortFrom(on, uint16(port)).String())
	switch {
	case errors.Is(err, syscall.EADDRNOTAVAIL):
		return nil, fmt.Errorf("this computer has no address %s", on)
	case errors.Is(err, syscall.EADDRINUSE):
		return nil, fmt.Errorf("port %d is taken by another program: %w", port, err)
	case err != nil:
		return nil, fmt.Errorf("cannot listen on port %d: %w", port, err)
	}
	return netutil.LimitListener(l, maxConns), nil
}

package preview

import (
	"errors"
	"fmt"
	"net"
	"strconv"
	"syscall"

	"golang.org/x/net/netutil"
)

// FirstPort is where a preview listens unless that port is taken.
const FirstPort = 8017

// maxConns is how many connections are open at a time; more wait their turn.
const maxConns = 400

// tries is how many further ports are tried.
const tries = 20

// Listen opens a port on the loopback address, which no other computer can
// reach: the port asked for, or, if that is 0, FirstPort or the next free one.
func Listen(port int) (net.Listener, error) {
	if port != 0 {
		return listenOn(port)
	}
	for port = FirstPort; ; port++ {
		l, err := listenOn(port)
		if err == nil || !errors.Is(err, syscall.EADDRINUSE) || port == FirstPort+tries {
			return l, err
		}
	}
}

func listenOn(port int) (net.Listener, error) {
	l, err := net.Listen("tcp4", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		return nil, fmt.Errorf("port %d is taken by another program: %w", port, err)
	case err != nil:
		return nil, fmt.Errorf("cannot listen on port %d: %w", port, err)
	}
	return netutil.LimitListener(l, maxConns), nil
}

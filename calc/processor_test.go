//go:build !unix

package calc_test

import "time"

var processorStart = time.Now()

// processorTime stands in for the processor time where the system has no such
// call.
func processorTime() time.Duration { return time.Since(processorStart) }

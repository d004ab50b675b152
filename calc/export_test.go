package calc

// SetMaxSteps bounds the operations of a run, so that a fuzzer spends its time
// on what is written and not on counting.
func SetMaxSteps(n int) { maxSteps = n }

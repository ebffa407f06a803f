// Package flood steps a compartmented vessel's flooding through time.
//
// Start puts a built vessel afloat; Steps advances it and hands out every step as it comes; Finish runs it to its end.
// One run belongs to one goroutine, any number of runs may share a Vessel. Same input, same bits.
//
//	run, err := flood.Start(vessel, flood.Settings{})
//	for step, err := range run.Steps(ctx) { … }
//	result := run.Result()
package flood

package shoot_test

import (
	"fmt"

	"github.com/byhead/byhead/scenarios/shoot"
)

// By Froude a model of 1:48 moves √48 times as fast as the ship: shown at 24 frames a second, it looks right at 166.
func ExampleExactRate() {
	fmt.Printf("%.0f\n", shoot.ExactRate(48, 24))
	// Output: 166
}

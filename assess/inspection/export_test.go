package inspection

// What tests look at from outside.
var (
	Left       = left
	CameraGaps = cameraGaps
)

// HoldTurn has all that take photos in wait until leave is called.
func (b *Bench) HoldTurn() (leave func()) {
	b.taking <- struct{}{}
	return func() { <-b.taking }
}

package inspection

// What tests look at from outside.
var (
	Left       = left
	CameraGaps = cameraGaps
)

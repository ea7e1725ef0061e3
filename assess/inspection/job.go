package inspection

import (
	"context"
	"slices"
	"sync"
	"time"
)

// Job is long work with progress and cancel.
type Job struct {
	cancel context.CancelFunc
	done   chan struct{}

	mu       sync.Mutex
	begun    time.Time
	progress Progress
	err      error
	warnings []string
	watchers []func()
}

// Progress tells how far a job is. Total is 0 while it is not known.
type Progress struct {
	Done, Total int
	Doing       string
	// Waits is whether it has not begun yet: another job comes first.
	Waits bool
	// Left is about how long it will go on; 0 while that can't be told.
	Left time.Duration
}

// surelyLeft is how long a job must have gone on before it is told how long it
// will: the first photo says little.
const surelyLeft = 2 * time.Second

// left reckons how long work will go on that took so long so far.
func left(took time.Duration, done, total int) time.Duration {
	if took < surelyLeft || done < 1 || done >= total {
		return 0
	}
	return took / time.Duration(done) * time.Duration(total-done)
}

// start runs work on a goroutine of its own.
func start(ctx context.Context, work func(context.Context, *Job) error) *Job {
	ctx, cancel := context.WithCancel(ctx)
	j := &Job{cancel: cancel, done: make(chan struct{})}
	go func() {
		defer cancel()
		err := work(ctx, j)
		j.mu.Lock()
		j.err = err
		j.mu.Unlock()
		close(j.done)
		j.tell()
	}()
	return j
}

// Warnings say what did not go as it should and did not stop the job.
func (j *Job) Warnings() []string {
	j.mu.Lock()
	defer j.mu.Unlock()
	return slices.Clone(j.warnings)
}

func (j *Job) warn(says string) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.warnings = append(j.warnings, says)
}

func (j *Job) at(done, total int, doing string) {
	j.mu.Lock()
	if j.begun.IsZero() {
		j.begun = time.Now()
	}
	if j.progress.Total == total {
		done = max(done, j.progress.Done) // two workers may tell out of order
	}
	j.progress = Progress{Done: done, Total: total, Doing: doing, Left: left(time.Since(j.begun), done, total)}
	j.mu.Unlock()
	j.tell()
}

// waits tells how much is to be done once the job comes to its turn.
func (j *Job) waits(total int) {
	j.mu.Lock()
	j.progress = Progress{Total: total, Waits: true}
	j.mu.Unlock()
	j.tell()
}

func (j *Job) tell() {
	j.mu.Lock()
	watchers := j.watchers
	j.mu.Unlock()
	for _, call := range watchers {
		call()
	}
}

// Watch calls back on every progress and at the end, on any goroutine. It calls
// once at once, so that no end is missed.
func (j *Job) Watch(call func()) {
	j.mu.Lock()
	j.watchers = append(j.watchers, call)
	j.mu.Unlock()
	call()
}

// Progress tells how far the job is.
func (j *Job) Progress() Progress {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.progress
}

// Cancel asks the job to stop; it ends soon after.
func (j *Job) Cancel() { j.cancel() }

// Done is closed when the job has ended.
func (j *Job) Done() <-chan struct{} { return j.done }

// Ended reports whether the job has ended.
func (j *Job) Ended() bool {
	select {
	case <-j.done:
		return true
	default:
		return false
	}
}

// Wait waits for the end and returns why the job failed, if it did.
func (j *Job) Wait() error {
	<-j.done
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.err
}

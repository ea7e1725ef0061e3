package inspection

import (
	"context"
	"sync"
)

// Job is long work with progress and cancel.
type Job struct {
	cancel context.CancelFunc
	done   chan struct{}

	mu       sync.Mutex
	progress Progress
	err      error
	watchers []func()
}

// Progress tells how far a job is. Total is 0 while it is not known.
type Progress struct {
	Done, Total int
	Doing       string
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

func (j *Job) at(done, total int, doing string) {
	j.mu.Lock()
	j.progress = Progress{Done: done, Total: total, Doing: doing}
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

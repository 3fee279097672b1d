package checker

// ahead is how many jobs a worker may be ahead of the first that is not done.
const ahead = 4

// inOrder does jobs 0 to n-1 on several workers and hands their results on in that order, as they come: those that wait are
// bounded by the number of workers.
func inOrder[T any](n, workers int, do func(job int) T, take func(T)) {
	if workers = min(workers, n); workers <= 1 { // one part needs no other goroutine, and no second set of all that one costs
		for i := range n {
			take(do(i))
		}
		return
	}
	type job struct {
		number int
		done   chan T
	}
	jobs, waiting := make(chan job), make(chan chan T, ahead*workers)
	for range workers {
		go func() {
			for j := range jobs {
				j.done <- do(j.number)
			}
		}()
	}
	go func() {
		for i := range n {
			j := job{i, make(chan T, 1)}
			waiting <- j.done
			jobs <- j
		}
		close(jobs)
		close(waiting)
	}()
	for done := range waiting {
		take(<-done)
	}
}

package data

// Version of the program, and of the machine format.
const (
	Version = "0.1.0"
	Format  = 2
)

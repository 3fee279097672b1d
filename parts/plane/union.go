package plane

// Union is the numbers from 0 divided into groups that can be joined; a group is known by its least number.
type Union []int

// NewUnion returns n numbers, each a group of its own.
func NewUnion(n int) Union {
	u := make(Union, n)
	for i := range u {
		u[i] = i
	}
	return u
}

// Find returns the group of a number.
func (u Union) Find(i int) int {
	for u[i] != i {
		u[i] = u[u[i]]
		i = u[i]
	}
	return i
}

// Join puts both numbers' groups together.
func (u Union) Join(i, j int) {
	i, j = u.Find(i), u.Find(j)
	u[max(i, j)] = min(i, j)
}

// Groups returns the numbers of each group, in order of their least number; those that leave out are in none.
func (u Union) Groups(leaveOut func(int) bool) [][]int {
	at := map[int]int{}
	var out [][]int
	for i := range u {
		if leaveOut != nil && leaveOut(i) {
			continue
		}
		g := u.Find(i)
		k, ok := at[g]
		if !ok {
			k = len(out)
			at[g] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], i)
	}
	return out
}

package circuit

// ordering is the elimination of a graph: the nodes in their order, and of each the neighbours it still had then.
type ordering struct {
	node      []int32
	neighbour [][]int32
}

// eliminationOrder removes nodes of small degree first, joining their neighbours with each other. Degrees up to two
// cost the same and add nothing, so among them the node with the lowest tree of removed nodes below it goes first: that
// keeps the elimination tree shallow. Nodes of nonlinear elements (touched) wait for a while, because what is removed
// before them is eliminated once and for all, and not at every Newton step.
func eliminationOrder(adjacent [][]int32, touched []bool) ordering {
	n := len(adjacent)
	o := ordering{node: make([]int32, 0, n), neighbour: make([][]int32, 0, n)}
	height := make([]int32, n)
	rank := make([]uint64, n)
	done := make([]bool, n)
	queue := make(rankHeap, 0, 2*n)
	rankOf := func(v int32) uint64 {
		degree := max(len(adjacent[v]), 2)
		if touched[v] {
			degree += touchedWait
		}
		return uint64(degree)<<40 | uint64(height[v])<<20
	}
	for v := range int32(n) {
		rank[v] = rankOf(v)
		queue.push(ranked{rank[v], v})
	}
	for len(o.node) < n {
		top := queue.pop()
		v := top.node
		if done[v] || top.rank != rank[v] {
			continue
		}
		done[v] = true
		around := adjacent[v]
		o.node = append(o.node, v)
		o.neighbour = append(o.neighbour, around)
		for i, u := range around {
			adjacent[u] = without(adjacent[u], v)
			for _, w := range around[:i] {
				join(adjacent, u, w)
			}
		}
		for _, u := range around {
			height[u] = max(height[u], height[v]+1)
			if r := rankOf(u); r != rank[u] {
				rank[u] = r
				queue.push(ranked{r, u})
			}
		}
	}
	return o
}

// touchedWait is how many degrees later a node of a nonlinear element is removed: measured best on door wiring.
const touchedWait = 2

// join makes u and w neighbours unless they are, looking in the shorter list.
func join(adjacent [][]int32, u, w int32) {
	short, other := u, w
	if len(adjacent[w]) < len(adjacent[u]) {
		short, other = w, u
	}
	for _, x := range adjacent[short] {
		if x == other {
			return
		}
	}
	adjacent[u] = append(adjacent[u], w)
	adjacent[w] = append(adjacent[w], u)
}

func without(list []int32, v int32) []int32 {
	for i, x := range list {
		if x == v {
			list[i] = list[len(list)-1]
			return list[:len(list)-1]
		}
	}
	return list
}

// rankHeap is a binary heap; equal ranks come out by node, so that the order is always the same.
type rankHeap []ranked

type ranked struct {
	rank uint64
	node int32
}

func (a ranked) before(b ranked) bool { return a.rank < b.rank || a.rank == b.rank && a.node < b.node }

func (h *rankHeap) push(x ranked) {
	a := append(*h, x)
	i := len(a) - 1
	for i > 0 {
		p := (i - 1) / 2
		if !x.before(a[p]) {
			break
		}
		a[i] = a[p]
		i = p
	}
	a[i] = x
	*h = a
}

func (h *rankHeap) pop() ranked {
	a := *h
	top, x := a[0], a[len(a)-1]
	a = a[:len(a)-1]
	i := 0
	for {
		c := 2*i + 1
		if c >= len(a) {
			break
		}
		if c+1 < len(a) && a[c+1].before(a[c]) {
			c++
		}
		if !a[c].before(x) {
			break
		}
		a[i] = a[c]
		i = c
	}
	if len(a) > 0 {
		a[i] = x
	}
	*h = a
	return top
}

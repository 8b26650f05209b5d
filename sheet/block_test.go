package sheet

import (
	"math/rand/v2"
	"testing"
)

// Whatever the blocks, all are placed once and in order, none runs over the foot of its page, and what
// must stay together does so where it fits on a page.
func TestPagesHoldEverythingInOrder(t *testing.T) {
	const top, height = 50, 600
	r := rand.New(rand.NewPCG(7, 8))
	for range 3000 {
		blocks := make([]block, 1+r.IntN(60))
		again := func() block { return block{height: 30} }
		for i := range blocks {
			blocks[i] = block{before: float64(r.IntN(20)), height: float64(1 + r.IntN(120)), keep: r.IntN(3) == 0, starts: r.IntN(9) == 0}
			if r.IntN(2) == 0 {
				blocks[i].resume = again
			}
		}
		blocks[len(blocks)-1].keep = false
		pages := paginate(blocks, top, height)
		next := 0
		where := make([]int, len(blocks))
		for n, page := range pages {
			if len(page) == 0 {
				t.Fatalf("page %d is empty", n)
			}
			bottom := float64(top)
			for _, b := range page {
				if b.y < bottom-1e-9 || b.y+b.height > top+height+1e-6 {
					t.Fatalf("page %d: a block from %g to %g, the one before ends at %g", n, b.y, b.y+b.height, bottom)
				}
				bottom = b.y + b.height
				if b.again {
					continue
				}
				if want := blocks[next]; b.height != want.height {
					t.Fatalf("block %d is out of order", next)
				}
				where[next] = n
				next++
			}
		}
		if next != len(blocks) {
			t.Fatalf("%d of %d blocks are placed", next, len(blocks))
		}
		for i := 0; i < len(blocks); {
			end := i + 1
			for end < len(blocks) && blocks[end-1].keep {
				end++
			}
			if tall(blocks[i:end]) <= height-30 && where[i] != where[end-1] {
				t.Fatalf("blocks %d to %d belong together and stand on pages %d to %d", i, end-1, where[i], where[end-1])
			}
			i = end
		}
	}
}

// A question that fits on a page is not broken over two.
func TestShortQuestionsAreNotBroken(t *testing.T) {
	const height = 600
	r := rand.New(rand.NewPCG(9, 10))
	for range 1000 {
		var blocks []block
		var first []int
		for range 1 + r.IntN(6) {
			first = append(first, len(blocks))
			for i := range 1 + r.IntN(9) {
				blocks = append(blocks, block{before: 5, height: float64(10 + r.IntN(50)), starts: i == 0})
			}
		}
		page := map[int]int{}
		n := 0
		for p, placed := range paginate(blocks, 0, height) {
			for range placed {
				page[n] = p
				n++
			}
		}
		for i, from := range first {
			to := len(blocks)
			if i+1 < len(first) {
				to = first[i+1]
			}
			if page[from] != page[to-1] {
				t.Fatalf("question %d of %g points stands on pages %d and %d", i, tall(blocks[from:to]), page[from], page[to-1])
			}
		}
	}
}

package sheet

import (
	"slices"

	"steelyard/pdf"
)

// A block is something that stands on one page: a line of text, a drawing, a row of a table.
type block struct {
	before float64 // space above it, left out at the top of a page
	height float64
	base   float64 // of a line of text: its baseline below the top
	give   float64 // how much of the height is room to write, which may shrink a little to save a page
	keep   bool    // stays on the page of the next block
	starts bool    // a question starts here: all of it goes to the next page if it would fit there whole
	first  bool    // and it is the first, which may be parted rather than leave its sheet's heading alone
	paint  func(p *pdf.Page, y float64)
	// resume, if set, makes the block that stands above this one where it starts a page: a table's
	// heading once more, or which question goes on.
	resume func() block
}

// A placed block has its page's number (from 0) and the top of its place.
type placed struct {
	block
	y     float64
	again bool // made by resume
}

// A flow is what fills pages, in order.
type flow struct {
	*look
	doc        *pdf.Document
	root       *pdf.Element // what belongs to the set stands in it
	blocks     []block
	footHeight float64
	resume     func() block // given to all blocks added from now on
	spare      float64      // part of the room to write that is given up, from 0 to most
}

const most = 0.2

// fill fills pages so that they are as few as they can be, and so are the questions that go on over
// a page's end, giving up no more room to write than that takes.
func (f *flow) fill(height float64) [][]placed {
	best := paginate(f.blocks, f.top, height)
	if len(best) == 1 {
		return best
	}
	for _, spare := range []float64{most, 2 * most / 3, most / 3} {
		tight := slices.Clone(f.blocks)
		for i := range tight {
			tight[i].height -= spare * tight[i].give
		}
		pages := paginate(tight, f.top, height)
		worse, same := compare(pages, best)
		if worse || same && f.spare == 0 {
			return best // giving up more or less gains nothing
		}
		best, f.spare = pages, spare
	}
	return best
}

// compare says whether a fills more pages than b, or as many with more of them begun in the middle
// of something.
func compare(a, b [][]placed) (worse, same bool) {
	count := func(pages [][]placed) int {
		n := 1000 * len(pages)
		for _, p := range pages {
			if len(p) > 0 && p[0].again {
				n++
			}
		}
		return n
	}
	return count(a) > count(b), count(a) == count(b)
}

func (f *flow) add(b block) {
	if b.resume == nil {
		b.resume = f.resume
	}
	f.blocks = append(f.blocks, b)
}

// gap asks for space above the next block.
func (f *flow) gap(height float64, from int) {
	if from < len(f.blocks) {
		f.blocks[from].before = max(f.blocks[from].before, height)
	}
}

// keepFrom keeps all blocks from one on together.
func (f *flow) keepFrom(from int) {
	for i := from; i < len(f.blocks)-1; i++ {
		f.blocks[i].keep = true
	}
}

// keepNext keeps the last block with the next one that comes.
func (f *flow) keepNext() {
	if n := len(f.blocks); n > 0 {
		f.blocks[n-1].keep = true
	}
}

// paginate fills pages of a height, from the top. What must stay together moves to the next page
// together; what is taller than a page is broken after all.
func paginate(blocks []block, top, height float64) [][]placed {
	pages := [][]placed{{}}
	y := 0.0
	room := func() float64 { return height - y }
	turn := func(next block) {
		pages = append(pages, nil)
		y = 0
		if next.resume != nil {
			again := next.resume()
			last := len(pages) - 1
			pages[last] = append(pages[last], placed{again, top, true})
			y = again.height
		}
	}
	set := func(b block) {
		last := len(pages) - 1
		if y > 0 {
			y += b.before
		}
		pages[last] = append(pages[last], placed{b, top + y, false})
		y += b.height
	}
	for i := 0; i < len(blocks); {
		end := i + 1
		for end < len(blocks) && blocks[end-1].keep {
			end++
		}
		if blocks[i].starts {
			whole := end
			for whole < len(blocks) && !blocks[whole].starts {
				whole++
			}
			if all := tall(blocks[i:whole]); !blocks[i].first && all > room() && all-blocks[i].before <= height && y > 0 {
				pages, y = append(pages, nil), 0
			}
		}
		if tall(blocks[i:end])-blocks[i].before > height {
			// Too tall for any page: part it where a question starts, if it can be.
			for cut := i + 1; cut < end; cut++ {
				if blocks[cut].starts {
					end = cut
				}
			}
		}
		need := tall(blocks[i:end])
		if y == 0 {
			need -= blocks[i].before
		}
		if need > room()+1e-6 && y > 0 {
			if blocks[i].starts {
				pages, y = append(pages, nil), 0
			} else {
				turn(blocks[i])
			}
		}
		for ; i < end; i++ {
			if y > 0 && blocks[i].before+blocks[i].height > room()+1e-6 && len(pages[len(pages)-1]) > 0 {
				turn(blocks[i])
			}
			set(blocks[i])
		}
	}
	return pages
}

func tall(blocks []block) float64 {
	sum := 0.0
	for _, b := range blocks {
		sum += b.before + b.height
	}
	return sum
}

package sheet

import "steelyard/pdf"

// A block is something that stands on one page: a line of text, a drawing, a row of a table.
type block struct {
	before float64 // space above it, left out at the top of a page
	height float64
	keep   bool // stays on the page of the next block
	starts bool // a question starts here: all of it goes to the next page if it would fit there whole
	paint  func(p *pdf.Page, y float64)
	// resume, if set, makes the block that stands above this one where it starts a page: a table's
	// heading once more, or which question goes on.
	resume func() block
}

// A placed block has its page's number (from 0) and the top of its place.
type placed struct {
	block
	y float64
}

// A flow is what fills pages, in order.
type flow struct {
	*look
	doc    *pdf.Document
	blocks []block
	resume func() block // given to all blocks added from now on
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
			pages[last] = append(pages[last], placed{again, top})
			y = again.height
		}
	}
	set := func(b block) {
		last := len(pages) - 1
		if y > 0 {
			y += b.before
		}
		pages[last] = append(pages[last], placed{b, top + y})
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
			if all := tall(blocks[i:whole]); all > room() && all-blocks[i].before <= height && y > 0 {
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

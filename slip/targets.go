package slip

import (
	"math"

	"steelyard/question"
	"steelyard/solution"
)

// Which forces a slip can fall on, by number in the main arrangement.

func (p *Plan) which(is func(f *force) bool) []int {
	var list []int
	for i := range p.scenes[0].forces {
		if is(&p.scenes[0].forces[i]) {
			list = append(list, i)
		}
	}
	return list
}

func onWeights(p *Plan) []int {
	return p.which(func(f *force) bool { return f.Kind == solution.Weight })
}

func onLoads(p *Plan) []int {
	return p.which(func(f *force) bool {
		return f.Kind == solution.Carried || f.Kind == solution.Push || f.Kind == solution.Spread
	})
}

// onAll is every weight and load.
func onAll(p *Plan) []int {
	return p.which(func(f *force) bool { return f.Kind < solution.Turn })
}

func onSpread(p *Plan) []int {
	return p.which(func(f *force) bool { return f.Kind == solution.Spread })
}

func onCouples(p *Plan) []int {
	return p.which(func(f *force) bool { return f.Kind == solution.Turn && f.from == load })
}

// onSlanting is every force that isn't a weight and acts at a slant to a body.
func onSlanting(p *Plan) []int {
	return p.which(func(f *force) bool {
		if f.Kind < solution.Reaction && f.Kind != solution.Push {
			return false
		}
		a := p.Answers.Layout.Bodies[f.On].Axis
		c := math.Abs(a.X*f.Way.Y - a.Y*f.Way.X)
		return c > 1e-9 && c < 1-1e-9
	})
}

// onPairs is the force of every support whose other force of the pair is asked for.
func onPairs(p *Plan) []int {
	return p.which(func(f *force) bool {
		for i := range p.Question.Parts {
			if x := &p.Question.Parts[i]; x.Ask == question.AskForceOn && x.Thing == f.Name {
				return true
			}
		}
		return false
	})
}

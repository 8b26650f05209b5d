package demo

// Questions that the invented teacher has written, in scenes of our own. The last one is not finished.
const (
	trestle = `question "Paint pots on a trestle plank"
level 14-16
idea "two supports; the loads lie on either side of the middle"
text "A uniform plank, {plank.length} long and of weight {plank.weight}, lies on two trestles, P and Q, {P.at} and {Q.at} from its left-hand end. A crate of paint pots of weight {K.weight} stands {K.at} from that end."

body plank: uniform, length 3.60 m, weight 150 N
support P: rest, on plank at 0.40 m, "left trestle"
support Q: rest, on plank at 3.00 m, "right trestle"
load K: weight 220 N, on plank at 1.10 m, "crate"

part a: find force P  marks 3
part b: find force Q  marks 1

vary plank.weight 130 N to 180 N step 10 N
vary K.weight     180 N to 300 N step 10 N
vary K.at         0.90 m to 1.40 m step 0.05 m
`
	shell = `question "Racing shell in two slings"
level 16-18
idea "the centre of mass is not in the middle"
text "A racing shell of weight {shell.weight} hangs level in two slings, A and B, {A.at} and {B.at} from its bow. Its centre of mass is {shell.centre} from the bow."

body shell: length 8.00 m, weight 340 N, centre of mass at 4.30 m
support A: force meter, on shell at 2.00 m, "front sling"
support B: force meter, on shell at 6.50 m, "rear sling"

part a: find force A  marks 3
part b: find force B  marks 1

vary shell.weight 300 N to 400 N step 10 N
vary shell.centre 4.00 m to 4.60 m step 0.05 m
`
	unfinished = `question "Bracket for the hall clock"
level 16-18
body arm: uniform, length 0.60 m, weight 12 N
support W: hinge, on arm at 0 m
load K: weight 85 N, on arm at
`
)

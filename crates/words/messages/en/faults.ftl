### What is wrong, and what to do about it.

in-option = in the option `{$option}`: {$what}
layers-unpriced = no price is set of what the layers take, and the quote leaves it out: {$list}
    .do = add a [[sundry]] for each with its price, or included = true
filling-unpriced = {$quantity} × {$item}: no price is set, and the quote leaves it out
    .do = add a [[sundry]] for it with its price, or included = true

## Fixings

use-legs = use legs of {$legs}
no-legs = no leg that is sold fits: glue the cloth, or choose a thicker board
take-legs-at-corners = take {$legs} there, or cut the bulk away first
staple-short-at-corners = a {$leg} staple hardly holds at the corners, through {$layers} layers
staple-too-long = a {$leg} staple comes through the {$board} board
staple-too-short = a {$leg} staple hardly holds the cloth
screw-comes-through = a {$screw} screw comes through { $face ->
    [yes] what it is fixed to
   *[no] the board into the foam
  }
screw-nearly-through = a {$screw} screw all but comes through { $face ->
    [yes] what it is fixed to
   *[no] the board into the foam
  }: less than {$left} would be left
screw-stack = the stack is {$stack}; use {$advice}
screw-hardly-bites = a {$screw} screw hardly bites
screw-before = {$before} lies before it; use {$advice}
no-cap-for-gauge = screw caps take gauge 6 to 12, not {$gauge}
    .do = use a gauge that takes a cap, or fix from behind

## Lays

or = or
the-part = the part
part-of = {$part} of {$piece}
pieces-of = {$left} of {$of} {$piece}
nothing-cut-from-it = nothing is cut from it
part-larger-than-sheet = {$part} of {$piece} is {$width} × {$height} and fits no sheet of {$goods}
    .do = add a larger sheet size, or divide the piece
too-wide-for-cloth = {$part} of {$piece} is {$width} × {$height} and does not fit the {$usable} usable of {$cloth}
    .up-the-roll = lay it up the roll, or allow a seam
    .railroad = railroad it (direction = "railroaded") if the cloth allows, or set seam_allowed = true
    .do = set seam_allowed = true, choose a wider cloth, or divide the piece
longer-than-roll = {$part} of {$piece} takes {$takes} of {$cloth} and a roll holds {$roll}
    .do = order a longer piece and say so with roll = "...", or divide the piece
no-common-phase = {$part} of {$piece} is {$width} wide on {$usable} usable of {$cloth} and cannot keep step with the others of its group wherever the pattern falls
    .do = centre the pieces instead of matching them, match fewer together, allow a seam, or choose a cloth whose width repeat divides the distance of the sections
no-place-on-pattern = {$part} of {$piece} is {$width} wide and lies over the edge of the {$usable} usable of {$cloth} wherever its motif falls
    .do = let it lie free of the pattern, measure the first motif again, or choose another cloth
pin-refused = {$part} {$what}; {$remedy}
pin-not-kept = part {$part} of {$cloth} {$what}
pin-on-own-cloth = parts are pinned on {$cloth}, which the customer brings
    .do = take the pins out: they hold on cloth that is bought
pin-no-such = is pinned, but there is no such part, or no further copy of it
    .do = take the pin out, or name the part as it is tagged now
pin-turn = is pinned turned as this cloth does not allow
    .do = pin it again as it lies in the lay
pin-outside = is pinned, but does not fit the cloth there
    .do = pin it nearer to the cut end, or take the pin out
pin-pattern = is pinned, but its motif cannot fall right there
    .do = pin it a column of motifs further, or take the pin out
pin-flaw = is pinned over a flaw
    .do = pin it clear of the flaw, or take the pin out
pin-overlap = is pinned over another pinned part
    .do = pin it beside that one, or take one of the pins out
own-cloth-short = {$short}{ $count ->
    [0] {""}
   *[other] {" "}(not covered from it: {$left})
  }
    .do = { $count ->
    [0] {""}
   *[other] with another cloth for {$elsewhere} everything else comes out of it;{" "}
  }ask for more of the same lot before cutting, or cover those pieces in another cloth
pattern-start = where the pattern of {$cloth} starts on the roll is not known: {$worst} is enough for every start; { $better ->
    [yes] at the best start looked at {$best} would do
   *[no] no start looked at needs less
  }
    .do = measure the first motif once the cloth is here, say it with first_along, and plan again before cutting
pattern-start-here = the cloth lies here, but where its pattern starts is not said: {$cloth} is laid as if a motif lay at the cut end
pattern-across = a motif of {$cloth} is taken to lie on the middle of its width
    .do = ask the supplier or measure it, and say so with first_across: the lay hangs on it
pattern-on-hand = where the pattern starts on {$lengths} is not said: up to {$repeat} of it is kept for that
    .do = it lies here: measure its first motif and say so with `first`
one-way-sideways = {$cloth} is laid railroaded: its pattern or pile, which runs one way, lies on its side on every piece; {$why}
    .do = show the customer a sample lying that way before cloth is ordered, or say direction = "up the roll"
sideways-refused = up the roll it cannot be laid: {$what}
sideways-more = up the roll it would take {$more} more
sideways-cannot = up the roll it cannot be laid

## Pieces, parts and materials

added-unused = `added` is given but `fullness` is another rule
    .do = say fullness = "added", or leave `added` out
buttons-at-edge = {$count} of the buttons stand on the edge of the board
    .do = give a `border` of {$half} or more, or say edge_buttons = false
buttons-too-deep = buttons pulled {$depth} deep in diamonds of {$diamond} × {$diamond-2}: the arc would be more than a half circle
    .do = fewer diamonds, less depth, or another `fullness`
channels-flat = the channels have no loft: the cover is cut as for a flat board
    .do = measure how far a channel stands above its valleys; even an inch takes much cloth
channels-off-centre = {$channels} equal channels cannot have that on the middle
    .do = an odd number has a channel on the middle, an even one a valley
cloth-too-narrow = the cloth is narrower than two seam allowances
    .do = choose a wider cloth
crown-too-high = a crown of {$crown} is more than half of {$width} × {$depth}
    .do = the crown is how far the middle stands above the edge of the filling
curve-too-tight = foam of {$f} fills a curve of radius {$radius}
    .do = choose a thinner foam or check chord and rise
diagonal-contradicts = diagonal {$i} is {$measured} but the sides make it {$should}
    .do = measure sides and diagonals again; if the piece is out of square, enter its corners or trace it
ears-without-room = the body must be narrower than the front, and the ears shallower than the whole
    .do = `width` is the front with its ears, `body` between the arms, `depth` over all, `ear` the depth of the ears
few-corners = the outline has no corners
    .do = add corner = [{"{"} x = "0", y = "0" {"}"}, ...] counter-clockwise seen from the face
few-corners-2 = an outline needs at least two `offset`s
    .do = add offset = [{"{"} at = "0", up = "12" {"}"}, ...] from the left end of the base line
few-corners-3 = an outline needs at least three `sides`
    .do = list them all round, counter-clockwise seen from the face
fitting-straddles-gap = {$what} straddles a gap or the margin; no opening is made for it
    .none = no number of equal columns from 3 to 10 clears every fitting; move it or use unequal panels
    .do = equal columns that clear every fitting, from 3 to 10: {$columns}
foam-too-thin = the wedge is {$thick} at its thick end and its foam {$thickness}
    .do = choose a foam at least as thick as the thick end, or glue two sheets and enter them as one
folds-overlap = the folds behind a face of {$spacing} lie over one another
    .do = {$most} is the deepest fold that lies flat; it makes full pleats
front-too-thick = a half-round front of {$t} takes more than the whole depth
    .do = measure the depth over all, the round front included
hole-outside = the cut-out for {$what} reaches over the edge of the board
    .do = x and y are the middle of the opening from the board's left and bottom edges, face view
hole-outside-2 = the hole of a ring is as wide as the ring
    .do = `inner` is the hole, `diameter` the outside
inside-corner = at an inside corner the slit opens a gap on the side
    .do = glue a facing of the same cloth into the corner before covering
lean-not-said = give either `angle` or `bottom`
    .do = the angle from the upright in degrees, or the bottom as measured at floor level
loft-too-high = channels {$i64} wide cannot rise {$loft}
    .do = the loft is at most half a channel's width (a half circle); check the number of channels
measures-contradict = the nearest outline misses a measure by {$worst}
    .do = measure again: a side or diagonal is wrong, or they are in another order
measures-disagree = the fitted outline misses a measure by {$worst}
    .do = measure the longest ones again, or cut a paper template and try it
missing = `added` needs two lengths
    .do = so much more cloth for each diamond, across and up: added = ["2", "1 3/4"]
missing-2 = `{$key}` is missing
missing-3 = there is no `[[piece.cut]]`
    .do = add one for each piece: name = "inside back", width, height, edges = {"{"} top = "stapled", ... {"}"}
no-cloth = {$name} has no cloth
    .do = add `cloth = "..."` with the name of one of the job's cloths
no-firmness = {$name} has a density but no firmness
    .do = ask for its firmness grade too: density says nothing of how hard it sits
no-foam = {$what} needs a foam: its thickness makes the boxing
    .do = add `foam = "..."` with the name of one of the job's foams
no-rate-for-work = no hourly rate is set: the work on {$first}{ $rest ->
    [0] {""}
   *[other] {" "}and {$rest} more
  } has no price, and there is no total
    .pieces = set `hour` in [rates], or a price for each piece with price_each
    .extra = set `hour` in [rates], or make of it a [[charge]] with its amount
no-pieces = the job has no pieces
    .do = add a [[piece]] with its kind and measures
no-price = {$name} is bought at a price of nought
    .do = give its price: until then the quote leaves it out
no-room-for-panels = margins and gaps leave no width for the panels
    .do = check the wall's measures, the gap and the number of columns and rows
no-room-for-sections = {$n} sections and their gaps leave no width for a board
    .do = check the run's length, the number of sections and the gaps
no-such-corner = the outline has corners 1 to {$n}, not {$from} and {$to}
    .do = corners are counted from where the first side starts, counter-clockwise seen from the face
no-usable-width = {$name} has no usable width between its selvedges
    .do = the width is selvedge to selvedge; the selvedge is what is lost on one side
not-four-radii = `radii` needs four lengths
    .do = bottom left, bottom right, top right, top left; or one `radius` for all
offset-outside = offsets go from left to right and stay on the base line
    .do = `at` is measured along the base line from its left end
outline-not-fixed = the measures do not fix the outline
    .few = {$given} measures are given and {$needed} are needed: add distances between corners (across = [{"{"} from, to, length {"}"}])
    .loose = some corner may still move: measure it from one more corner
pattern-unsaid = {$first}{ $rest ->
    [0] {""}
   *[other] {" "}and {$rest} more
  }: the pattern falls as it may
    .do = say pattern = "centred", put pieces in step with match = "a name", or say pattern = "free"
radius-too-large = the opening's radius is larger than its sides allow
    .do = at most half its lesser side
rise-too-great = over a chord of {$chord} a curve rises at most half of that, not {$rise}
    .do = the rise is measured square to the chord, in its middle; enter a rounder back in parts
round-and-wrapped = a round ottoman has a top and a band
    .do = leave `cut` out
same-name = {$list} {$first} and {$list} {$i} are both called `{$name}`
    .do = give each its own name; tags and lists go by it
seat-too-tight = {$what}: {$clear} is left on each side for cloth, and it needs {$needed}
    .do = plane the board or choose a thinner cloth; a seat that binds splits the rails
sections-do-not-add-up = the sections with their gaps come to {$sum} but the run is {$length}
    .do = measure each section and the whole run again
taper-too-flat = {$length} long from {$large} to {$small} is almost a flat disc
    .do = measure the length along the middle; if it is a disc, enter a round cushion
too-many-parts = the pieces take {$parts} parts, more than one job can hold
    .do = split it into jobs of at most {$most-parts} parts
too-many-pieces = {$copies} pieces are more than one job can hold
    .do = split it into jobs of at most {$most-copies} pieces
two-sizes = the opening has a `diameter` and a `width` or `height`
    .do = give `diameter` for a round one, `width` and `height` for another
unequal-pair = a pair needs as many left as right, and {$count} is odd
    .do = count left and right together
unequal-pair-2 = {$name}: a pair needs as many left as right, and {$count} is odd
    .do = count left and right together, or enter two pieces with hand = "left" and "right"

## Outlines

outline-rectangle = {$width} × {$height}, corner radius {$radius}
outline-radii = {$width} × {$height}, corner radius {$radii} from the bottom left, counter-clockwise
outline-trapezoid = bottom {$bottom}, top {$top}, {$height} high square to both, top's left end {$offset} right of the bottom's; diagonals {$one} and {$other} before rounding; corner radius {$radius}
outline-disc = disc {$across} across
outline-ring = ring {$across} across, hole {$hole}
outline-tee = { $ears ->
    [left] L, ear on the left
    [right] L, ear on the right
   *[both] T
  }: front {$front}, body {$body}, {$depth} deep over all, ears {$ear} deep, outer corner radius {$radius}
outline-corner = {$x}, {$y}
outline-fitted = fitted corners from the first corner, first side level: {$corners}
outline-offset = {$up} at {$along}
outline-offsets = on a base line of {$base}: {$points}
outline-corner-full = {$x}, {$y}{ $rounded ->
    [yes] {" "}radius {$radius}
   *[no] {""}
  }{ $bowed ->
    [yes] {" "}then a bow of {$rise}
   *[no] {""}
  }
outline-traced = as traced{ $known ->
    [yes] , true within {$within}
   *[no] {""}
  }: lay out by its full-size template
roughly-traced = the outline is true only within {$within}
    .do = check it with a template in card before cloth is cut, or take the photograph again, from straight above with the sheets flat
opening-crosses = the corners of an opening make no outline
    .do = name at least three corners round it, counter-clockwise, measured from its middle
outline-corners = corners from the left and bottom at {$corners}
outline-notch = notch {$width} × {$depth} in side {$side}, {$from} from its start
outline-too-few = an outline needs at least three corners
    .do = add the missing corners
same-corner = corners {$corner} and the next lie in one place
    .do = leave one of them out
radius-too-large-there = the radius of corner {$corner} is larger than its sides allow
    .do = at most {$most} fits there
radius-at-bow = corner {$corner} is rounded but meets a bowed edge
    .do = leave the radius out, or describe the rounding with a bowed edge of its own
bow-too-large = the edge after corner {$corner} bows more than a half circle
    .do = a rise is at most half the straight distance between the two corners
outline-crosses = the outline crosses itself
    .do = enter the corners in order, counter-clockwise seen from the face
notch-no-side = there is no side {$side}
    .do = sides are counted from the first corner
notch-in-bow = a notch in a bowed edge
    .do = enter the notch with corners of its own
notch-outside = the notch ends {$ends} along a side of {$side}
    .do = a notch lies within its side
short-flaps = the flaps of the cut-out for {$what} are {$flap} long and need {$needed} to be stapled behind
    .do = glue them to the inside of the hole, or line the hole with a strip of cloth first
narrow-flange = the flange of {$what} covers {$flange} beyond the opening and should cover {$hidden}
    .do = make the opening smaller, or fit a trim ring
hole-near-edge = the cut-out for {$what} comes within {$margin} of the edge
    .do = check that the board holds there, or move the fitting
border-too-wide = a border of {$border} leaves no field on {$width} × {$height}
    .headboard = `border` is the width of its face; without a border enter a panel
    .buttons = the border is what stays free of buttons along each edge
missing-length = add `{$key} = "74 1/2"`
missing-by = how far the foam is set back, or how much is tucked away
missing-sides = list each side it hangs from: sides = ["24", "22"]
missing-pleats = say pleats = "box", "inverted", "knife" or "corner"
missing-channels = add `channels = 2`
missing-runs = list each run of welt: runs = ["96", "40"]
a-boxed-cushion = a boxed cushion
a-sloped-cushion = a sloped cushion
a-waterfall-cushion = a waterfall cushion
lean-too-great = with {$angle}° nothing is left of the bottom of a cushion {$top}
    .do = the angle is measured from the upright, in degrees; or give `bottom` as measured
lean-too-great-bottom = with {$bottom} nothing is left of the bottom of a cushion {$top}
welt-on-a-curve = welt cut across the cloth puckers round a curve
    .do = cut it on the bias (welt_grain = "bias"), or clip it closely and accept it
layer-unsaid = a layer does not say what it is
    .do = say what = one of {$known}
unknown-place = the place `{$place}` is not one of those that are known: only general papers are named
    .do = choose one of: {$known}
unknown-name = there is no {$list} called `{$name}`
    .none = add a [[{$list}]] with that name
    .do = the job has: {$known}
unknown-side = `{$name}` is no side
    .do = sides are "bottom", "right", "top", "left", or for other outlines "1", "2" and so on from the first corner

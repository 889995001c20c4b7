### What is wrong, and what to do about it.

in-option = in the option `{$option}`: {$what}
filling-unpriced = {$quantity} × {$item}: no price is set, and the quote leaves it out

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

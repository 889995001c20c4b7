### Names of parts to cut.

part-boxing-side = boxing, side
part-boxing-right-side = boxing, right side
part-boxing-left-side = boxing, left side
part-boxing-front = boxing, front
part-boxing-right = boxing, right
part-boxing-back = boxing, back
part-boxing-left = boxing, left
part-welt-strip = welt strip
part-bias-block = bias block for welt
part-button-cover = button cover
part-front-and-back = front and back
part-end = end
part-foam-front-rounded = foam, front rounded
part-board-to-bend = board, to bend
part-channel = channel
part-end-channel = end channel
part-cover-of = cover, {$number} of {$of} from the left
part-cover-in-valleys = cover, {$number} of {$of} from the left, joined in the valleys
part-pull-for = pull for {$cut}
part-width-of = {$part}, {$which}
width-numbered = {$which} {$number}
width-half = half
width-middle = middle
width-left = left side
width-right = right side
part-face = { $inside ->
    [yes] inside cover
   *[no] outside cover
  }
part-face-left = { $inside ->
    [yes] inside cover, left width
   *[no] outside cover, left width
  }
part-face-middle = { $inside ->
    [yes] inside cover, middle width
   *[no] outside cover, middle width
  }
part-face-right = { $inside ->
    [yes] inside cover, right width
   *[no] outside cover, right width
  }
curve-inside = inside
curve-outside = outside
curve-hollow-face = board's hollow face
part-back-panel = back panel
part-back-strip = back strip
part-band = band
part-board = board
part-board-of-a-wing = board of a wing
part-body = body
part-bottom-panel = bottom panel
part-boxing = boxing
part-boxing-of-the-hole = boxing of the hole
part-corner-underlay = corner underlay
part-cover = cover
part-cut-as-measured = cut as measured
part-dust-cover = dust cover
part-layer-foam = foam on the frame
part-end-larger = end, larger
part-end-smaller = end, smaller
part-field = field
part-foam = foam
part-foam-cut-on-the-slant = foam, cut on the slant
part-foam-of-a-side-border = foam of a side border
part-foam-of-a-wing = foam of a wing
part-foam-of-the-field = foam of the field
part-foam-of-the-top-border = foam of the top border
part-foam-one-side-cut-on-the-slope = foam, one side cut on the slope
part-front-panel = front panel
part-front-top-and-back = front, top and back
part-main-panel = main panel
part-side-border = side border
part-skirt-side = skirt side
part-skirt-width = skirt width
part-top = top
part-top-border = top border
part-top-panel = top panel
part-wing-inside = wing, inside
part-wing-outside = wing, outside
part-zip-strip-half = zip strip half
part-zip-strip-half-lower = zip strip half, lower
part-zip-strip-half-upper = zip strip half, upper
part-tapered = {$bottom} along the bottom, {$top} along the top, whose left end lies {$from} { $right ->
    [yes] right of the bottom's
   *[no] left of the bottom's
  }
part-ends = left edge {$left}, right edge {$right}
part-slanted = left edge {$left}, right edge {$right}, its lower end {$rise} { $above ->
    [yes] above the left one's
   *[no] below the left one's
  }
part-to-template = by template {$tag}

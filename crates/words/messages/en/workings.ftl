### What was worked out, before its formula.

work-strips-joined = {$strips} strips, joined
work-in-lengths = in {$lengths} lengths, joined
work-crown-across = crown across, more on each side
work-crown-along = crown along, more on each side
work-diamond-on-board = { $across ->
    [yes] diamond across, on the board
   *[no] diamond high, on the board
  }
work-diamond-on-cloth = { $across ->
    [yes] diamond across, on the cloth
   *[no] diamond high, on the cloth
  }
work-diamond-cut = { $across ->
    [yes] cut, across
   *[no] cut, high
  }
work-cut-width = cut width
work-cut-height = cut height
work-field = field
work-across-channels = {$part}, across the channels
work-along-curve = {$what}, along the curve
work-of-cut-width = {$name}, cut width (left, right)
work-of-cut-height = {$name}, cut height (bottom, top)
work-front-and-back = front and back
work-end = end
work-arc-radius = { $arc ->
    [outer] outer arc, radius on the stitch line
   *[inner] inner arc, radius on the stitch line
  }
work-arc-chord = { $arc ->
    [outer] outer arc, chord
   *[inner] inner arc, chord
  }
work-arc-rise = { $arc ->
    [outer] outer arc, rise over the chord
   *[inner] inner arc, rise over the chord
  }
work-cloth-for-pleats = cloth for all {$pleats} pleats
work-as-wide-as-the-cloth-allows = as wide as the cloth allows
work-back-strip-length = back strip length
work-back-strip-width = back strip width
work-band = band
work-board = board
work-body-length = body length
work-body-round = body round
work-border-along-a-side = border along a side
work-border-along-the-top = border along the top
work-border-cut-across = border, cut across
work-bottom-towards-the-leaning-side = bottom, towards the leaning side
work-boxing-joined-at-the-front-corners = boxing, joined at the front corners
work-boxing-length = boxing length
work-boxing-of-the-hole = boxing of the hole
work-boxing-width = boxing width
work-button-cover = button cover
work-cloth-over-a-channel = cloth over a channel
work-cut-depth = cut depth
work-cut-height-lined-with-itself = cut height, lined with itself
work-cut-height-of-the-side = cut height of the side
work-depth-along-the-seam = depth along the seam
work-disc = disc
work-layer-width = layer, width
work-layer-depth = layer, depth
work-dust-cover-height = dust cover, height
work-dust-cover-width = dust cover, width
work-each-channel-on-the-board = each channel on the board
work-each-width = each width
work-end-height = end height
work-end-length = end length
work-field-height = field height
work-field-width = field width
work-finished-section = finished section
work-foam-depth = foam depth
work-foam-width = foam width
work-front-top-and-back = front, top and back
work-half-joined-in-the-middle = half, joined in the middle
work-half-of-the-rest-and-a-seam = half of the rest, and a seam
work-height-as-measured = height as measured
work-height-of-the-block = height of the block
work-joined-along-a-zigzag-of-buttons = joined along a zigzag of buttons
work-leaning-boxing-finished-height = leaning boxing, finished height
work-longest-strip = longest strip
work-main-panel-back-edge-to-back-edge = main panel, back edge to back edge
work-main-panel-width = main panel width
work-outside-of-a-wing-height = outside of a wing, height
work-outside-of-a-wing-width = outside of a wing, width
work-pull-height = pull, height
work-pull-length = pull, length
work-radius-of-the-board-s-hollow-face = radius of the board's hollow face
work-shortest-strip = shortest strip
work-cloth-for-gathers = cloth for the gathers
work-envelope-half = half of the back as cut
work-body-length-drawn = body, length with drawn ends
work-skirt-side = skirt side
work-slant = slant
work-strip-length = strip length
work-strip-width = strip width
work-top-depth = top depth
work-top-front-to-back-along-the-slant = top, front to back along the slant
work-top-width = top width
work-underlay = underlay
work-welt-for-all-pieces = welt for all pieces
work-welt-for-one-piece-laps-included = welt for one piece, laps included
work-width = width
work-width-along-the-seam = width along the seam
work-width-as-measured = width as measured
work-width-of-the-block = width of the block
work-wing-height = wing height
work-wing-width = wing width
work-zip-strip-length = zip strip length
work-zip-strip-width = zip strip width
work-finished-width = finished width
work-finished-height = finished height
work-core-width = core width
work-core-height = core height

### What is bought, what is done, what it costs.

## What sundries are for

use-staples = staples
use-adhesive = adhesive
use-welt-cord = welt cord
use-zip = zip
use-thread = thread
use-dust-cover = dust cover
use-wrap = wrap
use-screws = screws
use-screw-caps = screw caps
use-clips = clips
use-tack-strip = tack strip
use-buttons = buttons
use-button-twine = button twine
use-zip-sliders = zip sliders
use-inner-cushions = inner cushions
use-bolster-forms = bolster forms
use-wadding = wadding
use-cleats = cleats
use-webbing = webbing
use-springs = springs
use-laid-cord = laid cord
use-hessian = hessian
use-stuffing = stuffing
use-calico = calico
use-nails = decorative nails
use-gimp = gimp

## The shopping list

supplier-customer = from the customer
supplier-on-hand = on hand
item-sheet = {$name} {$length} × {$width}{ $offcut ->
    [yes] {" "}(offcut on hand)
   *[no] {""}
  }
item-of-size = {$item}, {$size}
item-but-legs = {$item}, but legs of {$legs}
size-roll = {$across} across, {$length} long
size-tapered-roll = {$large} to {$small} across, {$length} long
screw-size = No. {$gauge} × {$length}
screw-size-other = No. {$gauge} × {$sold} (not {$length})
screw-size-none = No. {$gauge}: no length that is sold suits
unit-each = each
unit-yards = yd
unit-metres = m
unit-square-feet = sq ft
unit-square-metres = m²
unit-sheets = { $count ->
    [one] sheet
   *[other] sheets
  }
unit-packs = { $one ->
    [yes] pack
   *[no] packs
  }
amount = {$amount}
amount-of = {$amount} {$unit}
why-lay = lay uses {$used}, ends {$trim}{ $several ->
    [yes] {" "}of each length
   *[no] {""}
  }, sold by {$step}
why-sheet-plan = { $parts ->
    [one] {$parts} part
   *[other] {$parts} parts
  }, see sheet plan
why-by-volume = { $parts ->
    [one] {$parts} part
   *[other] {$parts} parts
  } cut to size, each by the block it comes from
why-packs = {$amount}: {$why}; {$pack} in a pack
why-staples = { $feet ->
    [yes] {$line} ft
   *[no] {$line} m
  } of staple line, closer at corners
why-adhesive = every joint, both faces
why-welt-cord = length of welt with laps
why-zips = { $count ->
    [one] {$count} zip
   *[other] {$count} zips
  }
why-thread = seams × 2.5, and 15 % waste
why-dust-cover = backs that are covered
why-wrap = foam wrapped
why-screw-caps = screws through the face
why-fixings = fixings of each piece
why-tack-strip = edges closed over tack strip, and valleys of channels
why-buttons = buttons of each piece
why-button-twine = half a metre for each button
why-zip-sliders = one for each zip
why-wadding = layers in channels and crowns
why-delivered = delivered for this job
why-layers = layers of each piece
why-laid-cord = two metres for each spring
why-cleats = the width of each piece, on it and on the wall
why-filling = fills the cover

## Work

task-all-work-as-agreed = all work, as agreed
task-unpack = unpack and check cloth
task-inspect-and-label = inspect and label
task-frame = look over the frame
task-webbing = webbing
task-springs = springs
task-hessian = hessian
task-stuffing = stuffing
task-calico = calico
task-wadding = wadding
task-cut-strips = cut strips
task-place-on-pattern = place on the pattern
task-join-widths = join widths
task-cover-buttons = cover buttons
task-fit-cuts = fit cuts to the frame
task-hand-sew = sew by hand
task-nails = nails
task-gimp = gimp
task-pack = look over and pack
task-strip-the-old-cover = strip the old cover
task-mend-the-board = mend the board
task-cut-board = cut board
task-cut-foam = cut foam
task-glue = glue
task-lay-out-and-cut-cloth = lay out and cut cloth
task-sew = sew
task-welt = welt
task-zip = zip
task-channels = channels
task-buttons = buttons
task-tack-strip = tack strip
task-staple = staple
task-square-corners = square corners
task-rounded-corners = rounded corners
task-folded-ends = folded ends
task-cut-outs = cut-outs
task-fill-and-close = fill and close
task-dust-cover = dust cover
task-refit = refit
task-as-agreed = all work, as agreed
task-extra = {$what}
task-extra-times = {$what} × {$times}

## The price

group-cloth = Cloth
group-materials = Foam, board and sundries
group-labour = Labour
group-travel = Travel
group-charges = Other charges
group-minimum = Minimum charge
markup = markup {$percent} %
margin = margin {$percent} %
no-hourly-rate = No hourly rate set
price-sundries = sundries
price-percent-of-materials = {$percent} % of materials {$of}
price-travel = travel
price-journeys = {$journeys} × {$distance} {$unit} × {$rate}
price-flat = flat charge
price-times = {$times} × {$amount}
price-minimum = to the minimum charge
price-minimum-is = minimum {$minimum}
price-cost = {$quantity} {$unit} cost {$cost}, {$uplift}
price-hours = {$hours} h × {$rate}
price-hours-night = {$hours} h × {$rate} × {$factor}
price-work = {$work}{ $night ->
    [yes] , outside usual hours
   *[no] {""}
  }
price-work-on = {$work}, {$piece}
price-agreed = price agreed for each
price-own-cloth = customer's own cloth
    .why = {$percent} % of labour on pieces in it {$of}
price-pattern = pattern matching
    .why = {$percent} % of labour on patterned pieces {$of}
price-overhead = workroom overhead
    .why = {$percent} % of labour {$of}
work-goods = goods
work-fabrication = cutting and sewing
work-application = stripping and covering
work-repair = repairs
work-fitting = fitting on site
work-travel = time on the road
work-other = other work
deposit-materials = what the materials cost
deposit-percent = {$percent} % of the total

### What the papers say of a job.

months = January February March April May June July August September October November December
date-long = {$day} {$month} {$year}
cloth-yours = {$cloth} (yours)
extent-cuts = { $count ->
    [one] {$count} cut
   *[other] {$count} cuts
  }
extent-runs = { $count ->
    [one] {$count} run
   *[other] {$count} runs
  }, {$length} in all
extent-opening = , opening for {$what}
work-strip = strip
work-board-keep = keep the board
work-board-mend = mend the board
work-board-new = new board
work-foam-keep = keep the foam
work-foam-mend = mend the foam
work-foam-new = new {$thick} foam
work-wrap = wrap it
work-sew = sew a new cover{ $pattern ->
    [centred] {" "}with a motif in the middle
    [matched] {" "}with the pattern in line
   *[free] {""}
  }
work-cover = cover{ $pattern ->
    [centred] {" "}with a motif in the middle
    [matched] {" "}with the pattern in line from piece to piece
   *[free] {""}
  }
work-welt = welt
work-zip = zip
work-buttons = { $count ->
    [one] {$count} covered button
   *[other] {$count} covered buttons
  }
work-dust-cover = new dust cover
work-screws = screw back on
work-clips = clip back on
work-cleat = hang on cleats
not-included-line = {$quantity} × {$item}
tax-line = {$name} {$rate} % of {$on}
spread-no-records = Hours: allow ±{$percent} % (no records yet).
spread-from-records = Hours: real hours have been within ±{$percent} % ({$jobs} jobs).
choice-swap = {$to} instead of {$from}
one-lot-one-length = one lot, one length
one-lot-lengths = one lot, {$count} lengths: {$list}
supplier-any = stock or any supplier
on-hand-piece = {$cloth} {$name}, on hand
watch-more = More
watch-more-where = On the bench sheets.
tag-lot = { $of ->
    [1] {$each} in all
   *[other] {$each}, for {$n} of {$of}
  }
tag-one = {$n} of {$of}
tag-hand = { $hand ->
    [left] LEFT
   *[right] RIGHT
  }
tag-board = { $count ->
    [one] board
   *[other] board, {$count}
  }
take-level = level
take-screws = driver and awl
take-caps = screw caps
take-cleats = cleats, wall plugs, stud finder
take-clips = clips
take-rest = touch-up cloth, brush, vacuum, dust sheets, this sheet
fitting-screws = {$count} screws {$size}, {$way}
fitting-clips = {$count} clips
fitting-cleat = cleat
fitting-loose = laid in
weight-unknown = not known
outside-hours = {" "}(outside usual hours)
picture-of = {$tag} {$name}
picture-of-left = {$tag} {$name}; right: mirrored
picture-board-foam = Board and foam
picture-edge = Edge, cut through
picture-cuts = Where each cut goes
left-and-right = {$name}, left and right
fact-cloth = Cloth
fact-foam = Foam
fact-board = Board
fact-turn-under = Turn-under
fact-seam = Seams
fact-staples = Staples
fact-legs = {$legs} leg
fact-finished = Finished
caution-mirrored = Openings are mirrored when the piece lies face down.
edge-foam = foam {$thick}
edge-board = board {$thick}
legend-board = board's edge
legend-foam = foam's edge
legend-staples = staples
legend-cut = cut
legend-cut-away = cut away
legend-fold = fold
legend-stitch = stitch line
legend-pleat = pleat
legend-notch = notch
legend-button = button
evidence-cloth = Cloth: fibre, cleaning code, supplier's test certificate
evidence-public = Public seating: ignition test of cloth with filling as the local code asks
evidence-abrasion = Abrasion grade of the cloth for public use (the maker's figure)
evidence-wall = Wall panels: surface-flame class of cloth and core
evidence-vessel = Passenger vessels: marine fire-test certificate of the seating
evidence-vehicle = Road vehicles: interior burn rate of every layer (buses: UN Regulation 118)
evidence-vehicle-us = Road vehicles: interior burn rate of every layer (FMVSS 302)
evidence-air-bags = Seats with air bags and sensors: who took them out and put them back
evidence-caravan = Caravans: what the country asks of furniture in them
evidence-caravan-gb = Caravans: the furniture fire-safety regulations of 1988 cover new ones too
evidence-aircraft = Aircraft: burn tests of every layer by an approved body (14 CFR or CS 25.853); fitting by licensed people only
evidence-train = Railway carriages: what the operator asks of seats
evidence-train-eu = Railway carriages: EN 45545-2 for seat and cover
evidence-public-gb = Public seating: BS 7176 by the hazard of the place, cloth with its filling
evidence-public-us = Public seating: what the fire marshal and the local code ask, cloth with its filling
evidence-public-eu = Public seating: EN 1021-1 and EN 1021-2, cloth with its filling, and the country's own class
evidence-care = Care: what cleans and disinfects it, and who says so
evidence-home-gb = Home: Furniture and Furnishings (Fire) (Safety) Regulations 1988: cloth, filling, labels
evidence-home-us = Home: 16 CFR 1640, smouldering test of cloth and filling, and its label
evidence-ask = Ask the authority, the insurer and the customer which of these apply: these are prompts, no advice
evidence-home = Domestic furniture: match and cigarette tests or labels where the law asks for them
evidence-foam = Foam: density, firmness, fire certificate, date

## Words and marks

glossary-welt = Welt
    .means = (piping): a covered cord in a seam
glossary-boxing = Boxing
    .means = (gusset): the strip round a cushion's sides
glossary-turn-under = Turn-under
    .means = cloth that goes round the edge and is stapled behind
glossary-relief = Relief square
    .means = cut out so that a folded end lies flat
glossary-tuck = Tuck
    .means = cloth pushed down into a valley
glossary-rise = Rise
    .means = how far the middle of a bow stands over its ends
glossary-crown = Crown
    .means = the middle built up higher than the edges
glossary-pull = Pull
    .means = (fly): cheaper cloth sewn to an edge that is not seen
glossary-railroad = Railroaded
    .means = the part's top points to a selvedge
glossary-nap = Nap
    .means = the way the pile strokes smooth; it points down the piece
glossary-half-drop = Half-drop
    .means = each next column of motifs stands half a repeat on
glossary-motif = Motif
    .means = the figure that repeats; a part lies with its middle on it
mark-cut = cut here
mark-across = cut straight across the cloth
mark-board = board's edge under the cloth
mark-stitch = stitch here
mark-foam = foam
mark-wood = board
mark-arrow = the part's top
mark-number = number in the order of cuts
survey-sheets = Survey sheets
survey-bare-board = bare board
survey-old-cover = old cover
survey-filling = filling

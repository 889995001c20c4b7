### What is done at the bench: steps with their titles, and what can hurt.

## What can hurt

caution-eyes = Eyes covered to strip, saw and staple.
caution-hands = Gloves on; free hand behind the blade or lifter.
caution-tension = Springs and stretched webbing are under tension: hold them as they come free, face turned away.
caution-seam-ripper = Seam ripper away from you.
caution-dust = Dust mask for old filling; bag and bin what is mouldy.
caution-paint = Old paint may hold lead: no dry sanding.
caution-saw = Saw: guard on, ears and mask, board clamped.
caution-blade = Blade away from you, closed when put down.
caution-foam-saw = Foam saw or long knife: both hands behind the blade, power off to change it.
caution-glue = Glue: moving air, no flame; its fumes harm nerves as well as burn. Follow its data sheet.
caution-hot = Glue gun and hot air burn: on its stand when put down.
caution-steam = Steam scalds: dry hands, nobody's arm beneath.
caution-stapler = Air off to clear or load; other hand away from the gun's nose; ears covered.
caution-needle = Fingers clear of the needle; power off to thread.
caution-overhead = On the wall or overhead: two people, and a fixing that carries the weight.
caution-power = Sockets and switches: power off; a licensed electrician where the law asks for one.
caution-lift = Long or heavy: two people.
caution-cord = Button cord cuts: wear gloves, pull straight, nobody opposite the needle.

## Sizes

list = {$list}
size = {$width} × {$height}
size-outline = {$width} × {$height}, by template {$tag}
size-circle = a circle {$across} across
size-ring = a circle {$across} across with a hole {$hole} across in the middle
cut-one = {$count} × {$tag} {$name}, {$size}
cut-width = {$count} × {$tag} ({$size})
cut-in-widths = {$count} × {$tag} {$name} in widths: {$widths}
cut-cloth = {$count} × {$tag} {$name} ({$size})
cut-cloth-other = {$count} × {$tag} {$name} ({$size}, of {$cloth})

## Steps that several kinds share

step-cloth = { $listed ->
    [yes] {$parts} parts, as listed.
   *[no] {$list}.
  } { $pattern ->
    [centred] Middle of each seen part on a motif.{" "}
    [matched] Pattern in line: cut by the motifs, not by eye.{" "}
   *[free] {""}
  }{ $joined ->
    [yes] Join the widths first, from the left, seam {$seam}, pattern on pattern; press open.{" "}
   *[no] {""}
  }Check arrow and face; mark name and top on the back.
    .title = Cloth
opening-by-x = cut an X, stopping {$stop} short of each corner; { $short ->
    [yes] flaps of {$flap} are too short to staple: glue them inside the hole
   *[no] turn the {$flap} flaps in, staple or glue behind
  }
opening-by-nicks = cut {$count} nicks, stopping {$stop} short of the edge; turn in, staple or glue behind
step-cut-out = {$what}: { $round ->
    [yes] {$across} across
   *[no] {$width} × {$height}
  }, middle {$x} from left, {$y} from bottom, from the face. Cover tight first, then {$how}.
    .title = Cut-out
step-trim = Trim to {$beyond} past the staples. Hammer down any that stand up.{ $dust ->
    [yes] {" "}Dust cover on, turned in.
   *[no] {""}
  }
    .title = Trim
staples = Staples {$inset} from the edge, {$apart} apart, {$corners} at corners.{$cloth}
staples-with-legs = Staples {$inset} from the edge, {$apart} apart, {$corners} at corners; {$legs}.{$cloth}
pull-woven = {""}
pull-velvet = {" "}Velvet: no clamps, no pressing; pile down and towards the front; steam from behind lifts a mark.
pull-vinyl = {" "}Vinyl: warm it before it is pulled, hot air kept moving; every hole stays, so no trial staples in the face.
pull-leather = {" "}Leather: stretch it with the flat of the hand, no water, no steam; every hole stays.
pull-coated = {" "}Coated cloth: pull evenly and no harder than it lies flat; every hole stays.
pull-stretch = {" "}Stretch cloth: laid and cut without pull; the same light pull all round.
pull-outdoor = {" "}Outdoors: stainless staples and screws only.
sew-woven = {" "}Needle 100 to 110, stitch about 3 mm.
sew-velvet = {" "}Needle 90 to 100, stitch about 3 mm, pile running from the foot; pins in the seam allowance only.
sew-vinyl = {" "}Needle 110, stitch 3.5 to 4 mm, closer ones perforate it; clips, no pins; no unpicking: holes stay. A foot that does not stick.
sew-leather = {" "}Leather point 110, stitch 4 mm; clips, no pins; ends tied, not sewn back; holes stay.
sew-coated = {" "}Needle 100, stitch 3.5 mm; clips, no pins; holes stay.
sew-stretch = {" "}Ball point 90, stitch 3 mm that gives; feed it, do not pull.
sew-outdoor = {" "}Needle 110, stitch 3.5 mm, thread that stands sun and water.
step-edges = Face down, marks in line. One staple in the middle of opposite sides, then the other two; look at the face. Work outwards, corners last. {$staples}
    .title = Edges
step-board-mend = Glue and clamp; fill old holes.{ $breathes ->
    [yes] {" "}Bore a few holes of 12 mm for the air: under this cloth a sealed seat balloons and bursts its seams.
   *[no] {""}
  }{ $drains ->
    [yes] {" "}Bore drain holes at the lowest places.
   *[no] {""}
  } Mark the middle of every side.
    .title = Board
step-board-keep = Pull old staples, ease the edges.{ $breathes ->
    [yes] {" "}Bore a few holes of 12 mm for the air: under this cloth a sealed seat balloons and bursts its seams.
   *[no] {""}
  }{ $drains ->
    [yes] {" "}Bore drain holes at the lowest places.
   *[no] {""}
  } Mark the middle of every side, front and back.
    .title = Board
step-board-new = {$shape} Ease the edges.{ $openings ->
    [0] {""}
   *[other] {" "}Openings, larger for the cloth: {$opening-list}.
  }{ $holes ->
    [0] {""}
   *[other] {" "}Drill, from left and bottom: {$hole-list}.
  }{ $breathes ->
    [yes] {" "}Bore a few holes of 12 mm for the air: under this cloth a sealed seat balloons and bursts its seams.
   *[no] {""}
  }{ $drains ->
    [yes] {" "}Bore drain holes at the lowest places.
   *[no] {""}
  } Mark the middle of every side, front and back.
    .title = Board
board-from = {$name}
board-several = {$from}: {$list}. Check the diagonals.
board-plain = {$from}, {$size}; check the diagonals.
board-round = {$from}, {$size}.
board-outline = {$from} by template {$tag}: {$outline}; {$width} × {$height} over all.
board-opening = {$what} { $round ->
    [yes] {$across} across
   *[no] {$width} × {$height}
  }
board-hole = {$x}, {$y}
step-foam-new = {$name}: {$list}{ $openings ->
    [yes] , same openings
   *[no] {""}
  }. Glue foam and board as the glue's data sheet says, set down square: it may not shift again. { $wrapped ->
    [yes] Wrap in polyester, no glue on the face.{" "}
   *[no] {""}
  }{ $crowned ->
    [yes] Build the middle up by {$crown}, feathered to the edges.
   *[no] {""}
  }
    .title = Foam
step-foam-mend = Patch {$name} with the same grade, level. { $wrapped ->
    [yes] Wrap in polyester, no glue on the face.{" "}
   *[no] {""}
  }{ $crowned ->
    [yes] Build the middle up by {$crown}, feathered to the edges.
   *[no] {""}
  }
    .title = Foam
step-foam-keep = Keep it if it springs back and does not crumble. { $wrapped ->
    [yes] Wrap in polyester, no glue on the face.{" "}
   *[no] {""}
  }{ $crowned ->
    [yes] Build the middle up by {$crown}, feathered to the edges.
   *[no] {""}
  }
    .title = Foam
step-corners = {$list}
    .title = Corners
step-bottom-corners = {$list}
    .title = Bottom corners
corners-square = {$count} square: point over, staple; cut both slits in line with the board, stopping short as drawn; side flat, other over it, staple.
corners-wide = {$count} wide: no slit; lose {$excess} in { $pleats ->
    [one] {$pleats} pleat
   *[other] {$pleats} pleats
  }.
corners-rounded = {$count} rounded, radius {$radius}: lose {$excess} in {$pleats} even pleats, from the middle outwards; cut away the bulk.{ $crowded ->
    [yes] {" "}Or make two deep pleats.
   *[no] {""}
  }
corners-inside = {$count} inside: glue the facing in, slit towards the corner in stages, turn both sides in.
step-welt-top = Join strips on the slant; {$length} of covered cord. Sew round the top on the stitch line, start away from the front, clip at corners.
    .title = Welt
step-welt-seam = Join strips on the slant; {$length} of covered cord each, in { $runs ->
    [one] {$runs} run
   *[other] {$runs} runs
  }. Sew to the face on the stitch line; { $round ->
    [yes] clip all round
   *[no] clip at corners
  }.
    .title = Welt
step-zip-halves = Turn each half of the zip strip under; sew to a zip of {$length}. Slider on, a stop sewn at each end; hide the pull at one end.
    .title = Zip
step-zip-body = Leave the seam along the body open from end to end, so that the form goes in; sew in a zip of {$length}, slider on, ends stopped; pull hidden at one end.
    .title = Zip
step-zip-edge = Leave the opening in the middle of the lower edge, sew in a zip of {$length}, slider on, ends stopped; pull hidden at one end.
    .title = Zip
step-sew = Seams {$seam}. {$order}{$cloth}
    .title = Sew
step-close = {$filling}{ $wrapped ->
    [yes] Wrap in polyester.{" "}
   *[no] {""}
  }Fold it in, work it into the corners, close. Stand back and look at it.
    .title = Fill and close
fill-foam-cut = Cut the foam ({$foam}): {$size}.{" "}
fill-foam-kept = Foam is kept.{" "}
fill-foam-and = {$cut}{$more}{" "}
fill-inner = Filling: an inner cushion {$width} × {$height}{ $larger ->
    [yes] {" "}or a little larger
   *[no] {""}
  }.{" "}
fill-roll = Filling: a roll {$across} across and {$length} long.{" "}
fill-tapered-roll = Filling: a roll {$large} across at one end, {$small} at the other, {$length} long.{" "}
boxing-joined-at-corners = Join the boxing's sides to its front, right to the right; the joins lie at the front corners.{" "}
boxing-joined = Join the boxing's {$lengths} lengths.{" "}
boxing-joined-at-front = Join the boxing's {$lengths} lengths; set the middle of the middle one on the middle of the front, so that no join lies there.{" "}
sew-boxing-back = {$hole}{$joins}Boxing to the top panel from the middle of the front outwards, {$notches}; lap its ends over the zip strip. Then the bottom panel, the zip open, notches straight above each other or it twists.
sew-boxing-side = {$hole}{$joins}Begin at the zip strip: lay it on its side, lap the boxing's end {$lap} over it, sew the boxing round the top panel, {$notches}, and lap its other end as far over the zip strip's. Then the bottom panel, the zip open, notches straight above each other or it twists.
sew-boxing-shut = {$hole}{$joins}Sew the boxing's ends together; that join goes to the middle of the back. Boxing to the top panel from the middle of the front outwards, {$notches}. Then the bottom panel, an opening left along the back as wide as the foam needs, closed by hand when it is in; notches straight above each other or it twists.
notches-corners = notches at every corner
notches-inside = notches on notches, the boxing's allowance clipped at the inside corners before they are turned
notches-curve = notches on notches, its allowance clipped every hand's width round a curve
ring-hole = The hole's boxing to a ring, then to the top panel's hole and to the bottom panel's.{" "}
ring-foam = Slit the foam ring once, thread it round, glue the slit when it lies right.

## Steps of one kind

step-pad-long-edges = Face down, cloth centred by its marks. Middle of one long edge, then the other, outwards to {$short} short of the ends. {$staples} Turn over and look.
    .title = Long edges first
step-pad-ends = Cut the relief squares {$relief} out from the board, stopping {$relief} short of the top. Fold each end like a parcel, fold away from view, pull square, staple.
    .title = Fold the ends
sew-knife-edge = Faces together, tapering the corners in a little so that they do not make ears; zip open.
sew-envelope = Hem the inner edge of each back half; lay both on the front, right sides together, the upper half first, so that they lie over one another; sew all round, tapering the corners in a little.
sew-bolster-drawn = Body to a tube; a casing at each end, or two rows of gathering stitches; draw the ends together and tie them, a button or a disc over each.
sew-bolster = Body to a tube, clip its ends, sew in the discs with quarter marks on quarter marks.
sew-tapered-bolster = Body to a cone, clip both curved edges, sew in the larger end, then the smaller, quarter marks on quarter marks.
sew-wedge = Boxing front, sides and zip strip to a ring: each side's tall end to the thick end. Ring to the top panel, corners on corners; then the bottom panel, the zip open.
fill-wedge = Mark {$front} at the front and {$back} at the back and saw between the lines{ $two ->
    [yes] : one cut gives two wedges
   *[no] {""}
  }.
sew-sloped = Boxing to a ring, then to the top panel: the top is the larger face. The bottom panel last, zip open; its leaning edge is the shorter. Mark the inside of the leaning boxing.
fill-sloped = Saw the leaning side to the bottom panel's size below.
sew-waterfall-round = Zip strip to the two back edges of the main panel first, so that it becomes a ring. Then the ends, from the middle of the front both ways: notches at twelve, three and six o'clock on the main panel's, its allowance clipped round the front; the top is the edge marked with the arrow's head.
sew-waterfall-square = { $zip ->
    [yes] Zip strip
   *[no] Back strip
  } to the two back edges of the main panel first, so that it becomes a ring. Then the ends, corners on the fold marks, the allowance clipped at each corner; the top is the edge marked with the arrow's head.{ $zip ->
    [yes] {""}
   *[no] {" "}Leave most of the lower back seam open for the foam and close it by hand.
  }
fill-waterfall = Round the front to the end's curve.
step-ottoman-frame = The frame under the top is kept: shake it, glue what is loose, see that its lower edge holds staples. The board below is its top.
    .title = Frame
sew-ottoman-round = Band to a ring, quarter marks on band and disc; sew the ring to the disc, clipping its allowance all round. The band's joins go to the sides, or to the back if there is one.
sew-ottoman-wrapped = Ends to the front, top and back in one: from the middle of the top both ways, the cloth clipped to the seam at the two top corners. The pattern stands on its head on the back: that side goes to the wall.
sew-ottoman-box = Sides to a ring at the four upright seams, then the ring to the top, seam on corner. Left, right, front and back keep their arrows up.
step-ottoman-pull-on = Cover over the filled frame like a cap, seams straight on the edges, the allowance turned downwards. Staple under the frame: middle of each side first, then outwards, corners last. {$staples}
    .title = Pull on
step-channels = Mark the middle of the board, then { $level ->
    [yes] {$channels} level
   *[no] {$channels}
  } channels from the middle outwards, {$pitch} each on the board; { $odd ->
    [yes] a channel stands on the middle
   *[no] a valley stands on the middle
  }, both end channels alike. {$slit}{ $strips ->
    [yes] Sew the strips together, the end channels outermost; lay each seam into its valley from the middle outwards and {$hold}{$fill}.
   *[no] Mark the same valleys on the back of the cloth at their wider spacing, as drawn, from its middle outwards; where the cover is joined, the joins are valleys. Push the cloth's mark into each valley from the middle outwards and {$hold}{$fill}.
  }
    .title = Channels
channels-slit-deep = Slit the foam along each valley {$deep} deep, no deeper: the cloth is cut for that.{" "}
channels-slit-through = Slit the foam along each valley down to the board.{" "}
channels-hold-glue = glue its edges together round the tuck, or stitch it through to the backing
channels-hold-staple = staple it to the board through a strip of card
channels-fill = ; fill each channel with wadding, {$deep} deep over the foam, before the next is closed
step-buttons-board = Border {$border} all round. From the middle lines outwards, {$grid}. Buttons stand where the drawing shows them, {$buttons} in all. Drill the board at each; lay the foam on, mark the holes through from behind, and punch it before it is glued.
    .title = Mark the board
buttons-grid = lines at {$across} to either side and {$high} up and down
mark = {$at}
step-buttons-try = The rules of the trade differ; these sizes are by { $rule ->
    [slant] straight down to each button
    [depth] the depth once for each diamond
    [flat] none: the buttons only hold the cover down
    [two-depths] the depth at each end of a diamond
    [added] a fixed addition for each diamond
   *[arc] the arc over each diamond
  }: {$width} × {$height} on the board become {$cloth-width} × {$cloth-height} on the cloth. Pull one diamond over scrap foam with a piece of this cloth, {$depth} deep, before cutting; if it is tight or loose, say so in the job and plan again.
    .title = Try one diamond
step-buttons-cloth = On its back, from the middle lines outwards, {$grid}. The spaces are wider than on the board: that is the fullness.
    .title = Mark the cloth
step-buttons-pull = {$ligne} lignes, on strong cord, never on sewing thread. The buttons nearest the middle first, then their neighbours, row by row outwards: cloth mark on board hole, pull {$depth} down, staple the cord in a zigzag behind. Fold each pleat downwards with the flat of a spatula, so that dust falls out, before the next button.
    .title = Buttons
step-buttons-pleats = From the outer buttons straight to the edge: pull, fold all pleats of one side the same way, staple the middle one first.
    .title = Pleats to the edge
step-buttons-edges = Between the pleats outwards from the middles in turns, corners last. {$staples}
    .title = Edges
step-curve-check = Lay a straight edge across the hollow: {$chord} from end to end, {$rise} deep in the middle. If the real back is off by more than a finger, trace a template; it wins over the sum.
    .title = Check the curve
step-curve-join = Sew the widths top to bottom, pile and pattern running the same way; chalk the middle and the ends of the board on the joined cover.
    .title = Join the widths
step-curve-hollow = Middle of the top, middle of the bottom, then outwards along both by turns, pressing the cloth into the hollow with the hand: it must not bridge. The ends last. {$staples}
    .title = Hollow face
step-curve-outside = Over the stapled edges: top edge with a card strip, sides over tack strip, bottom turned in and stapled below; {$allowed} is allowed on every side.
    .title = Outside
step-headboard-field = Before foam and cloth: drill for legs or wall fixings and for the wings, set their nuts. Mark the border {$border} from the edges of the board: its line is where the field ends. Field cloth on by its marks, middle of the top, middle of the bottom, then the sides; staple on the border's side of the line, {$turn} turned in; the bottom goes round the board's edge. {$staples}
    .title = Field
step-headboard-mitres = Top border to both side borders along the slanted ends, seams {$seam}, from the inner corner outwards to the board's back edge and no further, back-tacked at both ends, so that the cloth behind lies flat; press open. Left and right borders are mirror images: lay them out before sewing.
    .title = Sew the mitres
step-headboard-border = Lay the border face down along the line, mitres on the corners, and staple its inner edge through a card strip, middle of the top first. Glue in the border's foam, turn the cloth over it, and staple behind from the middles outwards; at the mitres the seam runs straight to the board's corner.
    .title = Border
step-headboard-wings = {$wing} deep, one left, one right, pile the same way up on both: cover the inner face as a panel, bolt the wing on from behind, then close the outer face over tack strip, turned in {$strip} on every side.
    .title = Wings
step-skirt-hem = { $even ->
    [yes] Join the widths to a ring, pattern running on; joins will lie inside pleats.
   *[no] Join lengths of one side only where the plan says so.
  } { $lined ->
    [yes] Fold each along its length, right sides in, sew both ends shut, turn: the fold is the hem.
   *[no] Turn up the hem, {$hem}, and stitch it.
  }
    .title = Join and hem
step-skirt-pleat = Whole pleats on each side: {$list}. { $folds ->
    [1] Each face folds {$fold} under, all the same way.
   *[other] Each face folds {$fold} under at both its edges: to box pleats seen from the face, to inverted ones seen from the back.
  } Joins go inside pleats. Pin, measure each side, press under a cloth, stitch along the top.
    .title = Pleat
pleats-on = {$count} of {$width} on {$side}
step-skirt-corners = Fold back {$fold} at each end of every side; bring two ends together at each corner and lay an underlay behind them, its middle on the corner. Stitch along the top.
    .title = Pleat
step-skirt-gather = Two rows of long stitches along the top, a seam's width from the edge; quarter marks on the run and on the skirt; draw it up to {$percent} % of fullness evenly from mark to mark, stitch between the rows.
    .title = Gather
step-skirt-plain = Sides to a ring, a seam at each corner, pressed open; it falls straight, so the chalk line decides.
    .title = Join
step-skirt-hang = Chalk a level line all round, a finger's breadth and {$drop} above the floor. Face down with a card strip along the line, middle of the front first, corners on corners; it then clears the floor by that finger. Seam allowance {$seam}.
    .title = Hang
step-cuts-edges = Seen from the face, edges not named are stapled. {$list}.
    .title = Edges
cut-edges = {$name}: {$edges}
cut-edges-stapled = {$name}: all stapled
edge-of = { $side ->
    [bottom] bottom
    [right] right
    [top] top
   *[left] left
  } { $edge ->
    [tack-strip] over tack strip
    [seam] sewn
    [pull] pull sewn on
   *[bare] as cut
  }
sew-cuts = Pulls of cheaper cloth to the hidden edges first; then facings and borders to their neighbours, notches on notches, left and right laid out as mirror images before the first stitch.
step-cuts-cover = { $known ->
    [0] Inside first, outside after.
   *[other] In this order: {$inside}.
  } Inside wings go on with the inside back. Each: middle on middle, temporary staples in the middle of opposite sides, pull the pulls through, look from where it will be seen, then outwards. Cut towards a post or rail stopping a finger short, then a Y; never to it in one go. {$staples}
    .title = Cover
step-cuts-close = { $known ->
    [0] Outside wings and arms before the outside back:
   *[other] In this order: {$outside}.
  } Top edge over a card strip, front edges over tack strip ({$strip} is allowed), bottom under the rail.
    .title = Close
step-welt-double = Join the strips on the slant. Wrap the first cord, stitch close; lay the second beside it, roll the strip over it and stitch between the two through all layers; trim the tail behind. {$length} of cord in all. Glue it over staples and raw edges, joins where they are least seen.
    .title = Welt
step-welt-single = Join the strips on the slant, seams opened. Wrap the cord {$cord} thick and stitch close; {$length} in all.
    .title = Welt

## Layers from the frame out

step-layer-frame = Shake it: glue and clamp what is loose, fill old holes where staples must hold, take off what would cut the cloth.{ $noted ->
    [yes] {" "}{$note}.
   *[no] {""}
  }
    .title = Frame
step-layer-webbing = {$count} × {$length}: fold the end, fix it with a row of five, stretch with the stretcher till it drums, fix, cut, fold, fix again. Weave the cross strips under and over.{ $noted ->
    [yes] {" "}{$note}.
   *[no] {""}
  }
    .title = Webbing
step-layer-springs = {$count} springs: set them out evenly, each sewn to the webbing at four points; lash front to back, side to side, then on the slant, knots on every coil, a little pressed down, level.{ $noted ->
    [yes] {" "}{$note}.
   *[no] {""}
  }
    .title = Springs
step-layer-hessian = {$width} × {$depth}: on by a single line, folded over and fixed again; sewn to each spring if there are springs.{ $noted ->
    [yes] {" "}{$note}.
   *[no] {""}
  }
    .title = Hessian
step-layer-stuffing = {$width} × {$depth}: ties first, tease the stuffing in evenly, more at the edges; cover, regulate, stitch the edge through.{ $noted ->
    [yes] {" "}{$note}.
   *[no] {""}
  }
    .title = Stuffing
step-layer-foam = {$foam}, {$count} × {$width} × {$depth}: fit it dry, then glue it to what lies under it, edges as drawn.{ $noted ->
    [yes] {" "}{$note}.
   *[no] {""}
  }
    .title = Foam
step-layer-calico = {$width} × {$depth}: pulled tight and smooth from the middles outwards; what is not right under the calico shows in the cover.{ $noted ->
    [yes] {" "}{$note}.
   *[no] {""}
  }
    .title = Calico
step-layer-wadding = {$width} × {$depth}, cut short of the staple line, so that no bulk lies under the staples.{ $noted ->
    [yes] {" "}{$note}.
   *[no] {""}
  }
    .title = Wadding
step-layer-hand-sewing = {$count} × {$length}: curved needle, waxed thread, slip stitches from fold to fold, not to be seen.{ $noted ->
    [yes] {" "}{$note}.
   *[no] {""}
  }
    .title = Sew by hand
step-layer-nails = {$nails} nails along {$length}, {$spacing} from middle to middle: chalk the line and every tenth place, start at the ends and the middle; a hammer with a soft face.{ $noted ->
    [yes] {" "}{$note}.
   *[no] {""}
  }
    .title = Nails
step-layer-gimp = {$count} × {$length}: over the raw edge, ends turned under, glue thin and only on the gimp; pins till it holds.{ $noted ->
    [yes] {" "}{$note}.
   *[no] {""}
  }
    .title = Gimp

## Before and after

step-air-bags = Before a seat is unbolted or its cover touched: battery off, and wait as the maker's manual says. Air bags, belt locks and their plugs are for a trained person. No power tools on the seat; cover, foam and seat sensor may be one matched set and stay together. A side air bag's seam is the maker's: it is not sewn, stapled or covered.
    .title = Air bags

step-strip-sewn = Photograph. Unpick the seams; mark name, top and notches on each part and keep it. Check the filling.{ $is-found ->
    [yes] {" "}Found: {$found}.
   *[no] {""}
  } Worse than quoted: stop and ask.
    .title = Strip
step-strip-stapled = Photograph each layer. Mark top and folds on the old cover; keep it. Pull every staple: if they come hard, the { $board ->
    [yes] board
   *[no] frame
  } is good.{ $is-found ->
    [yes] {" "}Found: {$found}.
   *[no] {""}
  } Worse than quoted: stop and ask.
    .title = Strip
step-plain-buttons = {$count} of {$ligne} lignes ({$across} across): cut each disc twice as wide, press, and tie them through with button cord; through a cushion each needs a plain one on the other side.
    .title = Cover buttons
step-drop-in = Drop it into its rails: it must go in by hand and sit level, with room for the cloth all round.
    .title = Fit
step-fix-screws = {$count} screws No. {$gauge} × {$length} {$way}.{$pierce} Longest safe: {$most}; check one first.
    .title = Fix
step-fix-screws-long = {$count} screws No. {$gauge} {$way}. NOT the {$length} ones: they come through. Use {$advice}.{$pierce}
    .title = Fix
step-fix-screws-short = {$count} screws No. {$gauge} {$way}. The {$length} ones are too short. Use {$advice}.{$pierce}
    .title = Fix
screws-through-face = through the face, each with a cap
screws-from-behind = from behind
screws-pierce = {" "}Awl through the cloth first.
step-fix-clips = {$count} clips; push home with both hands flat.
    .title = Fix
step-fix-cleat = Hang on its cleat. It must sit home all along.
    .title = Fix
legs = {$legs} legs
legs-none = no staple that is sold holds in so thin a board without coming through: glue, or choose a thicker board
legs-everywhere = {$legs} legs
legs-corners = {$edges}; at corners, through {$layers} layers, {$corners}, or cut the bulk away first
legs-corners-none = {$edges}; at corners cut the bulk away first
sold-one = {$only}
sold-two = {$first} or {$last}
screws-none-sold = another way of fixing: no screw that is sold bites there without coming through

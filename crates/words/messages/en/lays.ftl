### What is claimed of a lay, and how the customer's own cloth does.

claim-proven = no lay can buy less
claim-proven-for-every-start = no lay that is enough for every start of the pattern buys less
claim-as-cut = with its welt and joined widths cut as they are here no lay buys less
claim-as-cut-and-least = with its welt and joined widths cut as they are here no lay buys less; cut in other pieces at least {$least} is needed
claim-nothing-needed = what is on hand may hold everything: nothing is known to be needed
claim-least = at least {$least} is needed, however it is laid
claim-least-for-every-start = for every start of the pattern at least {$least} is needed, however it is laid
own-enough = the customer's own is enough: {$laid} of {$asked} parts lie on it
own-the-customers = the customer's own
own-yours = your {$cloth}
own-named = the customer's {$cloth}
own-too-narrow = {$name} is too narrow for everything
own-short-as-far-as-found = {$name} does not hold everything as far as was found; {$short} more in one piece is enough, and a longer search may still find room
own-short = {$name} cannot hold everything; {$short} more in one piece is enough
own-short-and-least = {$name} cannot hold everything; {$short} more in one piece is enough, {$least} at least is needed
own-gives = { $all ->
    [1] no whole piece
   *[other] {$given} of {$all} pieces whole
  }
own-more-or = {$more} more is needed for the others whole, or {$least} if pieces may be cut from both lengths
own-more = {$more} more of it is needed
own-falls-short = {$short}. It gives {$gives}, {$laid} of {$asked} parts; {$besides}
assumed-start = {$cloth} is ordered long enough for wherever its pattern starts on the roll; it is measured when it is here, before it is cut

## Near misses

effect-enough = {$cloth} is enough then
effect-cloth = {$cloth} {$after} instead of {$before}
effect-sheets = {$goods} { $after ->
    [one] {$after} sheet
   *[other] {$after} sheets
  } instead of {$before}
nothing-to-spare = nothing to spare: cut to the line
then-to-spare = every part may then measure {$spare} more
hint-of-cloths = {$what}, of {$cloths}
hint-turn-under = {$by} less turn-under on stapled covers
hint-seam = seam allowances {$by} less
hint-trim = {$by} less lost at the ends of each length
hint-joint-gap = {$by} more between sections
hint-railroad = plain cloth laid whichever way buys less
hint-hidden-seam = the cover of {$piece} joined down the middle
hint-swap = {$one} and {$other} change places
hint-size = {$piece} {$key} {$by} less

## Cutting plan

plan-selvedge = { $side ->
    [left] left
   *[right] right
  }
plan-keep = keep {$name}
plan-group = {$first}–{$last}: {$count} of {$tag}, {$along} × {$across} each
plan-new-cloth = new cloth
plan-new-length = new cloth, length {$number}
plan-on-hand = {$name}, on hand ({$length})
plan-start = Square the end {$ahead} below the first motifs{ $columns ->
    [odd] {" "}of columns 1, 3, 5 and so on
    [even] {" "}of columns 2, 4, 6 and so on
   *[all] {""}
  }.
plan-on-motif = column {$column}, motif {$nth}
plan-on-row = motif {$nth}
plan-from-cut = {$along} from the cut, {$across} from the side
plan-end = end of the cloth
plan-cut-past = {$past} past motifs{ $columns ->
    [odd] {" "}in odd columns
    [even] {" "}in even columns
   *[all] {""}
  }
plan-section = {$long} long, cut across
plan-rest = the rest, {$long} long
plan-new-zero = new zero at {$at}: mark both selvedges
sits-on-motif = middle on the motif
sits-off-motif = middle {$list} of it
sits-right = {$by} right
sits-left = {$by} left
sits-beyond = {$by} beyond
sits-short = {$by} short

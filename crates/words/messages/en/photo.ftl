# Why a photograph gives no outline, and what to do.
photo-stopped = stopped
    .do = begin again when you like
photo-few-sheets = { $seen ->
    [0] no sheet was found in the photograph
    [one] only one sheet was found: { $which }
   *[other] only { $seen } sheets were found: { $which }
  }
    .do = at least three of the printed sheets must be in the picture, whole, flat, in focus and lit
photo-apart = the photographs share no sheet, so it is not known how they belong together
    .do = take them so that one sheet at least is in both
photo-does-not-fit = the sheets do not fit together: { $pixels } pixels are left over
    .do = lay the sheets flat (tape their corners down), hold the phone still, and take the photograph again
photo-focal = the lens found is { $percent } % off what the photograph tells of itself
    .do = use the phone's main camera at 1×, without zoom and without cropping, and check the tape distances
photo-tilt = the photograph was taken { $degrees } degrees from straight above
    .do = hold the phone level over the middle of the part: less than 20 degrees is best
photo-no-sheet = a distance is given to sheet { $sheet }, which is not seen in the photograph
    .do = give the numbers that are printed on the sheets, or take the photograph again with all of them in it
photo-tape = sheet { $from } to sheet { $to }: taped { $taped }, by the photograph { $found } (give or take { $spread })
photo-tapes = what was taped does not fit the photograph: { $each }
    .do = measure again from cross to cross, see that no sheet was moved, and that the check lines are right
photo-no-part = no part stands out from the floor
    .do = keep the sheets 30 mm (1 1/4 in) clear of it, and lay a plain cloth under it, light if the part is dark and dark if it is light; or tap its corners on the page
photo-out-of-picture = the outline runs out of the photograph
    .do = take the photograph from higher up, so that the whole part and the sheets are in it
photo-sheet-near = a sheet lies { $near } from the outline
    .do = keep the sheets 30 to 80 mm (1 1/4 to 3 in) clear of the part
photo-contrast = part and floor look too much alike along { $percent } % of the outline
    .do = lay a plain cloth under the part, light if the part is dark and dark if it is light
photo-no-edge = the edge cannot be followed along { $percent } % of the outline
    .do = put the corners nearer to the edge; if that is of no help, take the photograph again in even light, without hard shadows
photo-rough = the edge is too rough to be told as lines and arcs
    .do = trim frayed threads and smooth the edge, or lay a card template of the part instead; on the page, put the corners nearer to the true line
photo-unreadable = this is no picture that can be read: { $why }
    .do = use a photograph as the phone makes it, JPEG or PNG

# Why a drawing gives no outline.
drawing-unreadable = this drawing cannot be read: { $why }
    .do = save it as DXF (lines, arcs, polylines, circles) or as plain SVG
drawing-splines = the drawing has splines or ellipses
    .do = turn them into arcs or polylines where it was drawn, or save it as SVG
drawing-open = a line of the drawing ends where no other begins
    .do = close the outline: every end must meet another
drawing-empty = there is no closed line in the drawing
    .do = draw the outline as a closed line
drawing-several = the drawing has closed lines beside each other
    .do = leave one outline and what is cut out of it
drawing-too-many = the drawing has { $count } lines and arcs, more than the { $most } allowed
    .do = leave the outline and what is cut out of it

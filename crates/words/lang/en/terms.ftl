# Words for notions of the calculations; lower case, to stand inside a sentence or alone.
verdict-accept = accept
verdict-undecided = undecided
verdict-reject = reject

rotation-clockwise = clockwise
rotation-counter-clockwise = counter-clockwise
effect-shortens = shortens the stroke
effect-lengthens = lengthens the stroke
zero-open = from fully open (screwed out)
zero-closed = from fully closed (screwed in)
view-adjuster-end = seen from the adjuster end
view-nose-end = seen from the nose end

hand-right = right-hand thread
hand-left = left-hand thread

# Joints drawn to scale: good, and beyond each limit.
sketch-label = A good joint beside joints that miss a limit
sketch-good = Good
sketch-too-little = Too little
sketch-too-much = Too much
sketch-too-low = Too low
sketch-too-high = Too high

sketch-reach = The land ends { $limits } from the flange.
sketch-reach-high = A shoulder is left: the land ends more than { $limit } mm from the flange.
sketch-reach-low = The land runs into the flange: less than { $limit } mm is left.
sketch-pin = The pin ends { $limits } above the collar; minus is below.
sketch-pin-low = The pin's end is lower than { $limit } mm.
sketch-pin-high = The pin's end is higher than { $limit } mm.
sketch-stem = The stem ends { $limits } above the head; minus is below.
sketch-stem-low = The stem's end is lower than { $limit } mm.
sketch-stem-high = The stem's end is higher than { $limit } mm.
sketch-nut = The nut is { $limits } long below its head.
sketch-nut-high = Longer than { $limit } mm: the bulge is open.
sketch-nut-low = Shorter than { $limit } mm: the bulge is crushed.

sketch-stroke-short = The stroke was too short.
sketch-stroke-long = The stroke was too long.
sketch-why-low = Pin too short for the stack, a gap, or an early break.
sketch-why-code = Check pull, grip code and stack first.

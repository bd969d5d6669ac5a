# Grip, stack and stick-out.

# Values in a working.
given-layer = layer { $n }
given-layer-tolerance = tolerance of layer { $n }, either side
given-layer-expanded = expanded uncertainty of layer { $n }, k = 2
given-grip-min = thinnest stack of the code
given-grip-max = thickest stack of the code
given-grip-middle = middle of the code's grip
given-band-middle = middle of the stick-out band
given-pin-to-pin = how pins of one carton differ (common practice, no source)
given-lot = how a carton differs from its nominal length (common practice, no source)
given-gauge-standard = standard uncertainty of the gauge
given-nose-depth = depth from anvil face to pin stop
given-anvil-height = height of the anvil face above the work at the end
given-gap-open = gap still to close
given-stretch = jaw bite and stretch
given-full-stroke = full stroke
given-pitch = travel per turn
note-causes = Weights π · f stand relative to the most likely cause. One cause at a time; "something else" is always a candidate. How common causes are, and how far each moves a reading: common practice, no source.

# What explains a stick-out.
grip-cause-as-it-should = All as it should be
grip-cause-not-clamped = Sheets not clamped
grip-cause-head-not-seated = Head not seated
grip-cause-rod-aside = Rod on the pin's cone or burr
grip-cause-left-on = Washer or collar left on
grip-cause-layer-missing = Washer missing from the stack
grip-cause-pin-longer = Pin { $codes ->
    [one] one code
   *[other] { $codes } codes
  } longer than written down
grip-cause-pin-shorter = Pin { $codes ->
    [one] one code
   *[other] { $codes } codes
  } shorter than written down
grip-cause-code-long = Code { $codes ->
    [one] one step
   *[other] { $codes } steps
  } too long for the stack
grip-cause-code-short = Code { $codes ->
    [one] one step
   *[other] { $codes } steps
  } too short for the stack
grip-cause-mixed-carton = Mixed carton
grip-cause-stack-differs = Stack not as stated
grip-cause-other = Something else

# What speaks for it.
grip-evidence-as-it-should = The reading lies where it should.
grip-evidence-not-clamped = A gap between the sheets reads short by as much: 0.5 to 3 mm.
grip-evidence-head = A burr, paint or spatter under the head reads 0.2 to 1 mm short, on one pin or on all.
grip-evidence-rod = Beside the flat end, the rod reads 0.2 to 0.8 mm short or long.
grip-evidence-left-on = The gauge then starts from its face, so it reads short by the whole thickness.
grip-evidence-missing = It reads long by the whole thickness, 1 to 2.5 mm.
grip-evidence-pin = It would be code { $code }.
grip-evidence-code = The stack asks for code { $code } ({ $min } to { $max } mm).
grip-evidence-code-or-pin = Code { $code } ({ $min } to { $max } mm) would suit this stack, or the pin is not of the code written down.
grip-evidence-mixed = Some pins stand one code step further out than the others.
grip-evidence-stack = The reading speaks for a stack of about { $mm } mm.
grip-evidence-other = None of these.

# The check that tells them apart.
grip-check-clamp = Clamp the sheets tight and measure again.
grip-check-code = Read the code on each head.
grip-check-head = Run a feeler under each head.
grip-check-rod = Set the rod on the flat end of the pin and measure again.
grip-check-take-off = Take any washer or collar off and measure again.
grip-check-stack = Measure the stack beside the hole, layer by layer.

# Refusals.
refuse-layer-range = A layer is thicker than 0 and at most { $max } mm. { $value } is not. Check it.
refuse-layer-tolerance = A tolerance is at least 0 and less than the layer ({ $max } mm). { $value } is not. Check it.
refuse-layer-source = Give a tolerance (±) for a thickness from the drawing, or pick the gauge that measured it.
refuse-layer-thickness = This layer has no thickness. Enter it, or clear the row.
refuse-stack-gauge-stale = { $gauge } is out of calibration. Take one that is in date, or give a tolerance (±).
refuse-inches = { $typed } looks like inches: it would be { $mm } mm. Enter millimetres.
stack-asks-for = A stack of { $mm } ± { $doubt } mm asks for code { $code } ({ $percent } %). Code { $written } is for { $min } to { $max } mm. Take code { $code }, or correct the stack.
stack-undecided = A stack of { $mm } ± { $doubt } mm lies between two codes: { $code } ({ $percent } %) or { $next } ({ $next_percent } %). Measure the layers, or choose the code.
stack-at-end = A stack of { $mm } ± { $doubt } mm lies at the end of code { $code } ({ $percent } %). Measure the layers, or choose the code.
stack-thinner = A stack of { $mm } ± { $doubt } mm is thinner than any grip. The nearest is code { $code }, { $min } to { $max } mm. Check the layers.
stack-thicker = A stack of { $mm } ± { $doubt } mm is thicker than any grip. The nearest is code { $code }, { $min } to { $max } mm. Check the layers.
stack-between = A stack of { $mm } ± { $doubt } mm lies between the grips of two codes. The nearest is code { $code }, { $min } to { $max } mm. Check the layers.
stack-says-nothing = These layers do not come to a stack. Check them, or choose the code.

# On the page.
stack-summary = Stack, layer by layer (optional)
stack-hint = With ± from the drawing; without ± it was measured with the gauge below.
field-layer = Layer { $n }
field-layer-thickness = Layer { $n }, thickness
field-layer-tolerance = Layer { $n }, ±
field-stack-gauge = Gauge of the measured layers
field-clamped-legend = While the pins were measured
field-clamped = Sheets clamped tight
layer-plate = plate
layer-washer = washer
layer-coating = coating
layer-seal = seal
layer-gap = gap that stays
stack-is = Stack { $mm } ± { $doubt } mm.
stack-code = It asks for code { $code } ({ $chance }).
stack-agrees = Stick-out and stack agree.
stack-contradicts = Stick-out and stack contradict each other.
hint-code-by-stack = Leave it empty and enter the stack: the code follows from it.
explanations-heading = What explains it
explanations-off = Over this stack the code should stand out { $expected } mm. The pins are { $off } mm off; { $allowed } mm is doubt.
explanations-agree = Over this stack the code should stand out { $expected } mm, and it does (off by { $off } mm, doubt { $allowed } mm).
explanations-odd-pin = Pin { $pin } lies { $off } mm off the others.
explanations-check = Tell them apart:
stack-term = Stack

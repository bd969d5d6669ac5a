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
note-causes = One cause at a time; "something else" is always a candidate. How common causes are, and how far each moves a reading: common practice, no source.

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

# Nose match: criteria beside those in shop.ftl, what to measure, twins, counter sale.

match-teeth = teeth that engage
match-housing = housing bore
match-stroke = stroke
match-teeth-engaged = { $engaged } of { $teeth } teeth engage; the pull section has { $grooves } grooves
match-teeth-needed = { $engaged } of { $teeth } teeth engage; the pull section has { $grooves } grooves; { $needed } teeth must hold
match-teeth-few = { $teeth } teeth; { $needed } must hold
match-throat-wide = { $nose } mm; the collar before setting has { $other } mm, so nothing is swaged
match-between = { $nose } mm between { $min } and { $max } mm
match-housing-detail = { $bore } mm around { $widest } mm
match-stroke-detail = needs { $needs } mm of { $has } mm
match-stroke-table = the setting in the model sheet lies within the tool’s stroke

# What decides an open criterion.
match-measured = Measured on the parts in hand
match-measured-hint = Leave empty what is not measured. The sheets stay as they are, and the doubt of your caliper is not reckoned in: near a limit, look it up.
match-size-range = { $value } { $unit } cannot be. Type { $least } to { $most } { $unit }.
measure-teeth-pitch = Measure the pitch of the collet’s teeth.
measure-groove-pitch = Measure the pitch of the pull grooves.
measure-teeth = Count the collet’s teeth.
measure-grooves = Count the pull grooves on the tail.
measure-grip = Measure the collet’s gripping section.
measure-length = Measure the whole length of the collet.
measure-tail = Measure the length of the pull section.
measure-throat = Measure the anvil’s throat with a plug gauge.
measure-swaged = Look up both limits of the swaged collar diameter.
measure-tail-outside = Measure the outside of the tail or mandrel.
measure-collar = Measure the outside of the head or flange.
measure-housing = Measure the bore of the housing.
measure-collet-outside = Measure the outside of the collet.
measure-max-pull = Look up the pull that the nose set bears.
measure-stroke = Look up the stroke that setting takes.
measure-setting = Get the setting from the maker, and add it to the model sheet.

refuse-no-setting = The model sheet does not say how to set { $fastener } with { $nose }. Get the setting from the maker, add it, and load the sheet.

# Sizes in which sets that look the same differ.
size-collet-length = collet length
size-grip = gripping section
size-collet-outside = collet outside
size-throat = anvil throat
size-housing-bore = housing bore
size-pitch = pitch of the teeth
size-teeth = number of teeth

# How to tell them apart.
tell-caliper = by caliper
tell-caliper-over = by caliper, over all teeth
tell-count = count them
tell-instead = The caliper cannot tell; use { $with }.
tell-micrometer = a micrometer
tell-plug-gauge = a plug gauge
tell-lens = a lens and a new part beside it
tell-no-caliper = no caliper is in date
tell-gauge = Caliper { $gauge } tells differences above { $mm } mm.
given-gauge-step = smallest step of the gauge
note-told-two-readings = Two readings are compared, each with this uncertainty. Twice that of one is on the safe side.

# The page.
match-title = Nose match
match-link = Which nose set fits which fastener?
match-go = Match
match-held = Nose sets that you hold
match-held-hint = Tick none to ask for the whole shelf.
match-refuse-model = No sheet in force for the tool “{ $id }”. Pick one of the list, or load its sheet first.
match-refuse-fastener = No sheet in force for the fastener “{ $id }”. Pick one of the list, or load its sheet first.
match-refuse-held = No sheet in force for the nose set “{ $id }”. Tick those in the list, or load its sheet first.
match-no-models = There are no tool models yet. Load their sheets with "setwright sheets load FILE".
match-question = { $fastener } on { $model }
match-none = No nose set fits
match-none-held = None of the sets that you hold fits
match-none-shelf = There is no nose set on the shelf. Load its sheet with "setwright sheets load FILE".
match-nearest = Nearest: { $nose }
match-decide = To decide it
match-all = All sets, the best first
match-rule = In order: fits, undecided, does not fit. Then fewest criteria not met, fewest not known, largest margin of pull.
match-margin = { $kn } kN of pull to spare
match-margin-short = { $kn } kN of pull too little
match-other-thread = { $count ->
    [one] One more has
   *[other] { $count } more have
  } another front-end thread: { $names }.

match-buy = To buy
match-buy-nothing = Nothing: every part of { $nose } is held.
match-buy-held-open = { $nose } is held and undecided. Decide it before you buy.
match-buy-open = Undecided: measure before you buy.
match-buy-none = No set on the shelf would do.
match-buy-offer = Parts of { $nose }
match-buy-other = Or: { $nose }
match-part = Part
match-number = Number
match-price = Price
match-on-hand = On hand
match-collet = Collet
match-anvil = Anvil
match-housing-part = Housing
match-number-none = No number in the sheet: compare it with the one that you hold.
match-price-none = not known
match-on-hand-none = not counted
match-on-hand-order = 0, to order
match-net = Net
match-tax = Tax { $percent } %
match-total = Total
match-total-least = { $count ->
    [one] One price is
   *[other] { $count } prices are
  } not known: the total is larger.

match-can = What this tool can set
match-can-held = With the sets that you hold.
match-can-shelf = With every set on the shelf.
match-can-none = No fastener with a sheet.
match-fastener = Fastener
match-set = Nose set

match-twins = Sets that look the same
match-caution-any = Pack out, or air off and bled, or pump off and lines at zero, before a key or a finger enters the nose.
match-twins-none = None.
match-twins-rule = Same thread and teeth; takes and outside less than { $mm } mm apart.
match-pair = { $first } and { $second }
match-size-column = Differs in
match-by = By
match-tell = How to tell
match-not-known = Not known from the sheets: { $sizes }.
match-look-alikes = Look-alikes that the sheets name
match-right = Right
match-wrong = Wrong
match-instead-of = { $number } instead of { $right }

# At the prompt.
match-no-sheet = No sheet { $kind } { $id } is in force. There are: { $known }.
match-against = Against it, or to decide it

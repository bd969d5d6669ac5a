# Mistakes in sheet files. Each says what is allowed or what to do.
sheet-syntax = Not TOML: { $what }. Correct this first; the rest is read after that.
sheet-kind-missing = The file does not say what it describes. Begin it with sheet = and one of: { $allowed }.
sheet-key-unknown-near = There is no such key here. Perhaps { $near } is meant.
sheet-key-unknown = There is no such key here. Keys here: { $known }.
sheet-key-missing = { $key } is missing. Add it.
sheet-need-text = Write a text in quotes.
sheet-need-number = Write a number without quotes and without its unit.
sheet-need-whole = Write a whole number without quotes.
sheet-need-yes-no = Write true or false.
sheet-need-date = Write a date as 2026-11-25, without quotes.
sheet-need-money = Write an amount from "0" to "9999999.99" in quotes, with a point and no currency.
sheet-need-list = Write a list in square brackets.
sheet-need-table = Write a table of keys and values.
sheet-need-pair = Write two numbers in square brackets.
sheet-text-empty = The text is empty. Write it.
sheet-text-long = The text is too long. At most { $max } characters.
sheet-id = An id has up to 40 lower-case letters, digits and hyphens.
sheet-id-twice = Written twice: first in line { $line }. Change one of them.
sheet-not-finite = Not a number that can be measured. Write the number.
sheet-range = Allowed: { $min } to { $max }.
sheet-word = Allowed: { $allowed }.
sheet-reference = Nothing in this sheet has this id. There are: { $allowed }.
sheet-side-without-test = There is no test that this speaks of. Name it under `test` or `criterion`, or leave this out.
sheet-alike = { $file }: on { $drive } tools no check tells { $one } from { $other }; a symptom does. A check that only one of them answers would.
sheet-alike-wholly = { $file }: on { $drive } tools nothing tells { $one } from { $other }. Add a check that only one of them answers, or make them one cause.
sheet-stripped-to = Only a check with state = "stripped-no-energy" has a part to strip to. Change the state or leave this out.
sheet-visit-state = Checks of one visit find the tool in one state: { $first } asks for another state, or strips to another part. Give this one a visit of its own.
sheet-visit-hands = Something is fitted or measured before this check: it is no part of a visit. Leave one of the two out.
sheet-test-and-criterion = A check is answered by a test or by a criterion. Leave one of the two out.
sheet-together-part = No tool model has a part of this name, or one that is also called so.
sheet-together-model = No tool model has this id.
sheet-together-test = No model sheet has a bench test of this name.
sheet-together-criterion = No fastener sheet has a criterion of this name.
sheet-too-few = At least { $least } needed.
sheet-interval-reversed = The first number must be smaller. Swap them.
sheet-limits-missing = No limit. Give lower, upper or both.
sheet-limits-reversed = The lower limit must be below the upper, { $upper }. Swap or correct them.
sheet-gauge-unit = Such a gauge does not read { $unit }. Change the gauge or the unit.
sheet-hand-missing = The thread hand is missing. Write hand = "right" or hand = "left", as the maker states it.
sheet-pitch-missing = The groove pitch is missing. Give pitch_mm.
sheet-pitch-not-wanted = A plain shank has no pitch. Leave pitch_mm out.
sheet-currency = Write the three capital letters of ISO 4217, such as EUR.

# Tool models.
sheet-energy-missing = This drive needs [{ $key }]. Add it.
sheet-energy-not-wanted = This drive has [{ $key }] instead. Leave this out.
sheet-return-missing = A hydraulic tool needs its return pressure. Give return_bar.
sheet-pull-source = Say where area and friction come from. Give pull_source.
sheet-ratio-not-wanted = A hydraulic tool pulls with the oil as it comes. Leave ratio out.
sheet-clockwise = The four facts say that a clockwise turn { $effect }. One of the five is wrong: check hand, screwing_in, zero and seen_from on the tool.
sheet-spread-of-one = One reading has no spread. Ask for at least two with `count`.
sheet-reserved = “{ $id }” stands for a cause that the model does not list. Take another id.
sheet-setting-twice = This nose set and fastener have a setting already. Keep one.
sheet-table-short = A table needs at least two rows.
sheet-table-not-wanted = A setting by full stroke has no table. Leave this out.
sheet-relation-not-wanted = Only a setting by stick-out has a relation. Leave this out.
sheet-relation-contradicts = Row { $row } says { $table } turns at { $mm } mm, the relation { $relation }. They may differ by { $allowed }. Correct the row or the relation.
sheet-doubt-without-table = This is the uncertainty of a table, and there is none. Leave it out, or give mm_to_turns.
sheet-table-order = The millimetres must grow from row to row.
sheet-table-must-rise = By the adjuster's facts the turns must grow with the millimetres. Check the table, then zero and screwing_in.
sheet-table-must-fall = By the adjuster's facts the turns must fall as the millimetres grow. Check the table, then zero and screwing_in.
sheet-table-slope = The table changes by { $have } turns per mm; a pitch of { $pitch } mm gives { $want }. Correct the table or pitch_mm.
sheet-table-off-line = A straight line from the first to the last row gives { $line } turns here, and expanded_turns allows ± { $doubt }. Correct the row, or state a larger expanded_turns.
sheet-bore-wider = The bore must be smaller than outside_mm.
sheet-new-outside-limits = The size when new must lie within the limits.
sheet-tolerance-wider = The tolerance must be smaller than the torque, { $torque } N·m.
sheet-interval-missing = The task is never due. Give every_pulls, every_days or every_shift = true.
sheet-pass-or-limits = A test that is passed by looking has no such key. Leave out either pass or this.

# Fasteners, nose sets, gauges.
sheet-stick-out-missing = A lockbolt needs the band of its stick-out. Give stick_out_mm.
sheet-grip-reversed = min_mm must be smaller than max_mm.
sheet-codes-rise = Codes go from thin to thick. The one before spans { $min } to { $max } mm; both limits must be larger here.
sheet-grooves-longer = So many grooves of this pitch are longer than tail_mm, { $tail } mm. Correct one of them.
sheet-grip-teeth-more = More teeth than pull_grooves. Correct one of them.
sheet-grip-longer = The gripping section cannot be longer than the collet, length_mm.
sheet-no-go = The no-go size must be larger than the throat, { $throat } mm.
sheet-look-alike-same = The sizes are equal, so they do not tell the parts apart.
sheet-due = The due date must lie after the calibration.
sheet-resolution-coarse = The step is larger than the range.
sheet-directions-missing = Say in which direction the wrench is calibrated: directions = ["clockwise"], ["counter-clockwise"] or both.
sheet-directions-not-wanted = Only a torque wrench has directions. Leave this out.

# Sheets held against each other.
sheet-together-twice = { $file } has this id already. Change one of them.
sheet-together-no-nose-set = No nose set with this id was given. Add its sheet or correct the id.
sheet-together-no-fastener = No fastener with this id was given. Add its sheet or correct the id.
sheet-together-no-gauge = None of the gauges given can take this. Add a gauge or another kind.
sheet-together-thread = The nose set has { $nose }, the tool { $tool }, or the hands differ. Correct the one that is wrong.
sheet-together-groove = The collet's teeth do not match the fastener's grooves in form and pitch.
sheet-together-diameter = The nose set is not for { $diameter } mm.
sheet-together-nose-pull = The fastener takes up to { $force } kN, the nose set bears { $most } kN.
sheet-together-pull = The fastener takes up to { $force } kN, the tool pulls { $rated } kN.
sheet-together-stick-out = The fastener states no stick-out. Give stick_out_mm there, or set by stroke.
sheet-together-stroke = The fastener states no stroke. Give stroke_mm there, or set by stick-out.
sheet-together-price = { $file } gives { $price } for part { $number }. One part has one price: correct one of them.
sheet-together-on-hand = { $file } gives { $count } on hand for part { $number }. Count again, and correct one of them.
sheet-together-full-stroke = This fastener does not break its tail, so full stroke crushes the joint. Set by stick-out, stroke or force.
sheet-together-force = Force ends the pull of a rivet nut only. Set by stick-out, stroke or full-stroke.
sheet-together-cover = The table goes from { $first } to { $last } mm, the fastener from { $lower } to { $upper } mm. Add rows.
sheet-repair-pulls-alone = Pulls alone are no warranty on a tool without a counter. Add repair_months.
sheet-circle = These parts wait for one another, so none of them can come off: { $circle }. Take one out of the after of another.
sheet-unreachable = { $part } can never be reached: it waits for parts that wait for one another ({ $circle }). Mend that circle, or the after of this part.
sheet-opening-parts = Name the parts after whose removal this is done: parts = ["…"].
sheet-adapter-angle = An angle without an adapter. Give adapter_mm, or leave this out.
sheet-length-not-wanted = Only a torque wrench has the length of its arm. Leave this out.
sheet-kit-pack = Only a battery tool has a pack. Leave pack out.
sheet-vibration-missing = States the uncertainty of a vibration that is not given. Add "vibration_m_per_s2", or leave this out.
sheet-rig-place = The column is named twice. Give its number (column) or its heading, not both.
sheet-rig-unit = No unit of this column. Allowed: { $allowed }.
sheet-rig-volts = A column in volts needs what one volt is: scale, in kN or mm.
sheet-rig-scale-zero = A scale of 0 makes every value 0. Give what one unit of the file is.
sheet-rig-filter-key = The filter has no such number. Leave this out or choose its filter.
sheet-rig-window = The window has a middle only if it is odd. Add or take away one.
sheet-feature-unit = A recording gives this in { $unit } (empty: a count or a slope, which no bench test asks for). Change the unit or leave feature out.
sheet-feature-and-test = A check is answered by one reading: recorded pulls, a bench test or a criterion. Keep one of them.
sheet-side-without-feature = This says how a feature of recorded pulls fails. Give feature, or leave this out.

# Sampling plan of a crew's lot check, and the run chart of what crews sent.

lot-title = Lot check
lot-link = Sampling plan for a lot of joints
lot-intro = How many joints of a lot to look at, and how many bad ones among them let it pass. Nothing typed here is kept.
lot-caution = A plan says how many bad joints slip through, not that none do. Every bad joint that is found is replaced in any case. Where the drawing, the maker's instructions, the local code or the engineer of record ask for more, or for every joint, that goes first.
lot-source = common practice
lot-size = Joints in the lot
lot-level = Inspection level
lot-level-hint = II is the usual one. S-1 to S-4 are for checks that destroy the joint or take long.
lot-aql = Acceptance quality limit, % bad
lot-aql-hint = The share of bad joints with which lots still pass nearly always. Who orders the work sets it.
lot-go = Show the plan
lot-plan = Look at { $sample } of { $lot } joints
lot-plan-all = Look at all { $lot } joints
lot-plan-none = No plan of this level exists for { $lot } joints with { $aql } % for a test that destroys: the table asks for { $sample }, which leaves no joint. Take a larger limit or a larger lot, or a level for a look that leaves the joint whole.
lot-accept-all = Replace each bad one that is found; the others pass.
lot-accept = { $accept ->
    [0] Accept the lot with no bad one among them, reject it with 1 or more.
    [one] Accept the lot with 1 bad one or none among them, reject it with 2 or more.
   *[other] Accept the lot with up to { $accept } bad ones among them, reject it with { $reject } or more.
}
lot-random = Draw them at random over the whole lot: first and last, easy and awkward places, each shift.
lot-letter = Code letter { $letter }. ISO 2859-1:1999, single sampling, normal inspection, tables 1 and 2-A (from memory: hold the plan against your copy of the standard).
lot-letter-moved = Code letter { $letter }; the table's arrow leads to the plan of { $to }. ISO 2859-1:1999, single sampling, normal inspection, tables 1 and 2-A (from memory: hold the plan against your copy of the standard).
lot-curve = What the plan lets through
lot-curve-good = With { $share } % bad joints a lot passes { $chance } times in a hundred.
lot-curve-half = With { $share } % bad it passes every other time.
lot-curve-bad = With { $share } % bad it still passes one time in ten.
lot-curve-all = All are looked at: what is found is what is there.
lot-curve-x = Bad joints, %
lot-curve-y = Lots accepted, %
lot-curve-label = Operating curve: with { $good } % bad joints { $chance } % of lots pass, with { $bad } % still 10 %.
lot-switch = After two rejected lots of five in a row the standard asks for tightened inspection, which this page does not give.
refuse-lot-size = { $value } is outside { $min } to { $max }. Count the joints of the lot.
refuse-lot-level = No inspection level "{ $level }". Pick one of the list.
refuse-lot-aql = { $aql } is none of the standard's limits. Pick one of the list.

run-summary = Run chart: { $criterion }, { $count } joints in the order in which they came, each by its worst place
run-steady = No signal: the joints differ as by chance.
run-signals = Something has changed. Look at what was done differently from there on:
run-reads = { $what } (joint { $n }: { $value } { $unit }){ $again ->
    [0] {""}
    [one] , and once again later
   *[other] , and { $again } times later
}
run-setting = Joints at the setting of the newest sending. Declined ones are left out.
run-axis = Joint, in order
run-label = Run chart of { $criterion }: { $count } joints, { $signals } with a signal.
run-baseline = The limits come from the first { $count } joints and stay when more come. From so few they are rough: one signal alone may be chance.
signal-beyond-limit = one joint beyond three standard deviations
signal-nine-one-side = nine in a row on one side of the mean
signal-six-trend = six in a row rising or falling
signal-fourteen-alternating = fourteen in a row up and down by turns
signal-two-of-three = two of three beyond two standard deviations on one side
signal-four-of-five = four of five beyond one standard deviation on one side
signal-fifteen-within = fifteen in a row within one standard deviation
signal-eight-outside = eight in a row outside one standard deviation
signal-jump = a step from the joint before, wider than chance

# Joints of one setting in numbers: in the set-up and in the inbox.

numbers-summary-none = In numbers: no good one of { $count }
numbers-summary = In numbers: { $good } good of { $count } prove that at least { $percent } % are good
numbers-share = { $good } good of { $count }: with 95 % confidence at least { $least } % of joints set like this are good (two-sided { $low } to { $high } %).
numbers-share-alone = Good ones alone: { $count } of them prove { $percent } %, no more. For 90 % it takes { $ninety } without a bad one, for 95 % { $ninety-five }.
numbers-mean = Mean { $mean } { $unit }, standard deviation { $deviation } { $unit }, from { $count } joints, of each its worst place.
numbers-alike = All readings are the same: the gauge does not show how the joints differ.
numbers-cpk = C_pk { $cpk } (95 %: { $low } to { $high }). About { $outside } % would lie outside the limits.
numbers-cpk-good = Also the lower end fits well.
numbers-cpk-bad = Even the upper end does not fit: joints will fall outside.
numbers-cpk-open = So few readings leave open whether it fits: the interval reaches from poor to good.
numbers-between = With 95 % confidence 95 % of the joints lie between { $lower } and { $upper } { $unit }.
numbers-above = With 95 % confidence 95 % of the joints lie above { $lower } { $unit }.
numbers-below = With 95 % confidence 95 % of the joints lie below { $upper } { $unit }.
numbers-gauge = The scatter of the gauge is in these numbers: the joints themselves differ a little less. An error common to all its readings is not: it moves them all.
numbers-fits = That is inside the limits.
numbers-reaches = That reaches beyond the limits: set more joints, or move the setting towards the middle.
numbers-normal = Nothing speaks against a normal distribution, on which these lines rest.
numbers-normal-few = These lines rest on a normal distribution. { $count } readings are too few to show another.
numbers-not-normal = The readings do not look normal: do not rely on these lines. Look for two kinds of joint among them, or a gauge that sticks.
numbers-outlier = { $value } { $unit } stands out from the rest. Measure that joint again; leave it out only for a reason that has nothing to do with its value.

joints-fleet-link = Joints in numbers
joints-fleet-title = Joints by tool model and fastener
joints-fleet-intro = Trial joints of set-ups that were signed off in ended jobs, of each those at its last setting, against the limits of the fastener sheet in force.
joints-fleet-caution = Joints of one job are alike, and a set-up ends once enough in a row are good: in use more may be bad than these lines say. They prove nothing of a joint that stands.
joints-fleet-none = No set-up was signed off in an ended job yet.
joints-fleet-of = { $model }, { $fastener }
joints-fleet-jobs = { $count ->
    [one] From 1 job:
   *[other] From { $count } jobs, the newest first:
}

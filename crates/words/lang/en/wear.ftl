# Wear of a part, and how long it lasts.
wear-heading = Wear, and how long it lasts
wear-measured = { $size } ± { $expanded } { $unit }; new { $new } { $unit }, { $limits }
wear-keep = lasts until its next service
wear-replace = replace now
wear-look-at = does not last until its next service, and a new one would not either: look at it at { $counter } pulls
wear-look-after = does not last until its next service, and a new one would not either: look at it after { $pulls } pulls
wear-cannot-tell = cannot tell
wear-left = About { $left } pulls left; from { $low } to { $high } with 95 %.
wear-left-open = About { $left } pulls left; at least { $low } with 97.5 %.
wear-none-left = No life left.
wear-not-seen = No wear to be seen so far.
wear-no-rate = The sheet states no life, and one reading alone does not tell how fast it wears.
wear-risk = Next service in { $pulls } pulls ({ $task }): beyond its limit by then with { $percent }.
wear-since-renewed = { $count ->
    [one] Renewed at { $counter } pulls; one reading since.
   *[other] Renewed at { $counter } pulls; { $count } readings since.
}
wear-since-first = { $count ->
    [one] Nobody knows when it was new: reckoned from its one reading, at the rate of the sheet.
   *[other] Nobody knows when it was new: reckoned from the first of its { $count } readings.
}
wear-reading = At { $counter } pulls { $size }, job { $job }
wear-reading-uncounted = { $size }, job { $job }; pulls not known
wear-on-report = { $said } Advice: { $advice }.
wear-working = Wear: { $part }, { $what }
wear-counter-anew = The counter began anew in job { $job }: what was measured before says nothing of the pulls since.

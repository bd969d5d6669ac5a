# What a gauge bar says to those who cannot see it.
gauge-bar-label = { $what }: { $value } { $unit }, { $verdict }

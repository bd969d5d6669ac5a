# Vibration and noise of a crew's day.

exposure-title = Exposure of a day
exposure-link = Vibration and noise of a day
exposure-learned = What we learned
exposure-intro = Each tool that one person pulls with in a day. Nothing typed here is kept.
exposure-caution = A planning aid. Declared values come from a test bench; at work they are often higher. A strong single jerk, as when a mandrel breaks, is judged only in part by an average. The maker's instructions, the assessment of the work place and local law go before it. Tingling, white fingers, ringing ears: stop and see a doctor.
exposure-source = Directive 2002/44/EC; Directive 2003/10/EC; ISO 5349-1:2001, annexes
exposure-row = Tool { $n }
exposure-tool = Tool
exposure-vibration = Vibration, measured
exposure-vibration-hint = Left empty: the sheet's declared value and its uncertainty together.
exposure-seconds = Time for a pull
exposure-seconds-hint = Hand on the trigger. Left empty: the sheet's cycle time.
exposure-pulls = Pulls a day
exposure-noise = Noise at the ear, measured
exposure-noise-hint = Left empty: the sheet's declared level.
exposure-go = Reckon
exposure-day = The day
exposure-vibration-day = A(8) = { $a8 } m/s²
exposure-noise-day = L_EX,8h = { $level } dB(A)
exposure-vibration-above-limit = Above the limit value of 5 m/s²: not to be worked like this.
exposure-vibration-above-action = Above the action value of 2.5 m/s²: fewer pulls, another tool, or shared between more hands.
exposure-vibration-below = Not above the action value of 2.5 m/s².
exposure-noise-above-limit = Above 87 dB(A): the limit value, under the hearing protection that is worn.
exposure-noise-above-upper = Above the upper action value of 85 dB(A): hearing protection must be worn.
exposure-noise-above-lower = Above the lower action value of 80 dB(A): hearing protection must be offered.
exposure-noise-below = Not above the lower action value of 80 dB(A).
exposure-without-vibration = No vibration is known of: { $tools }. It is missing in A(8).
exposure-without-noise = No noise level is known of: { $tools }. It is missing in L_EX,8h.
exposure-of-tool = { $hours } h on the trigger: { $pulls } pulls of { $seconds } s
exposure-uses = Reckoned with { $value } m/s²
exposure-uses-declared = Reckoned with { $value } m/s²: { $declared } declared and { $uncertainty } uncertainty
exposure-tool-a8 = A(8) of this tool alone { $a8 } m/s²
exposure-tool-noise = L_EX,8h of this tool alone { $level } dB(A), at { $noise } dB(A)
exposure-pulls-to = Alone it comes to the action value after { $action } pulls a day, to the limit value after { $limit }.
exposure-pulls-none = Alone it does not come to the action value in a whole day.
exposure-pulls-action = Alone it comes to the action value after { $action } pulls a day, and not to the limit value.
exposure-too-long = The pulls of a day take { $hours } h together. A day has 24.
exposure-name = Tool { $n }, not on a sheet
refuse-exposure-tool = No model sheet "{ $id }" is in force. Pick one of the list, or enter the values.
refuse-exposure-empty = Nothing is filled in. Pick a tool, or enter what was measured, and how many pulls a day.
refuse-exposure-nothing = Pick the tool, or enter a vibration or a noise level.
refuse-exposure-seconds = Enter the time for a pull: without a tool there is no cycle time to take.
refuse-exposure-range = { $value } is outside { $min } to { $max } { $unit }. Look at the unit, and type it again.

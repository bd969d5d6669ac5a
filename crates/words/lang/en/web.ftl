# Texts of every page: the frame, forms, refusals.

## Numbers that were typed

number-missing = Enter a number in { $unit }.
number-not = “{ $typed }” is not a number in { $unit }. Enter it like 12.34.
number-other-unit = The value is in { $typed }. This field takes { $unit }.
count-missing = Enter a whole number.
count-not = “{ $typed }” is not a whole number. Enter digits only, like 61480.
field-error = { $label }: { $message }

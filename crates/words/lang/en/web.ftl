# Texts of every page: the frame, forms, refusals.

## Numbers that were typed

number-missing = Enter a number in { $unit }.
number-not = “{ $typed }” is not a number in { $unit }. Enter it like 12.34.
number-other-unit = The value is in { $typed }. This field takes { $unit }.
count-missing = Enter a whole number.
count-too-many = “{ $typed }” is more than any tool counts. Enter at most { $most }.
count-not = “{ $typed }” is not a whole number. Enter digits only, like 61480.
text-too-long = At most { $most } characters; this has { $count }.
field-error = { $label }: { $message }

## The frame of every page

language-tag = en
program-name = setwright
skip-to-content = Skip to the content
title-error = Error: { $title }
nav-label = Main
nav-bench = Bench
nav-tools = Tools
nav-sheets = Sheets
nav-gauges = Gauges
nav-fleet = Fleet
find-label = Find a tool or a job
find-hint = Scan or type a serial or a job
find-go = Find
who-nobody = Who are you?
who-pick = Your name goes into each entry.
who-field = Your name
who-none = There are no names yet: the shop card lists them. Load one with "setwright sheets load FILE", then start the program again.
who-form-first = Send or leave the form on this page first: picking a name here would lose what you typed.
log-out = Log out
to-the-bench = To the bench

## Forms

problem-heading = There is a problem
select-none = Choose
reading-of = Reading { $n } of { $of }
typed-heading = What you typed
typed-send = Send again

## The shop passphrase

login-title = Shop passphrase
login-passphrase = Passphrase
login-go = Log in
login-wrong = This is not the shop’s passphrase.
login-wait = { $tries } wrong passphrases from this address. Try again in { $minutes ->
    [one] one minute
   *[other] { $minutes } minutes
  }.
logged-out-title = You are logged out
logged-out-text = Nothing was stored. Log in, come back here, and send it again.
logged-out-link = Log in (opens a new tab)

## Refusals

stale-title = This form was too old
stale-text = Nothing was stored. Check what you typed and send it again.
e400-title = This could not be read
e400-text = Nothing was stored. Go back and try again.
e403-title = Not allowed
e403-text = This form did not come from a page of this program. Nothing was stored. Open the page again.
e404-title = Nothing here
e404-text = The address may be mistyped, or the label may belong to another shop. Use the box above to find the tool or the job.
e405-title = Not possible here
e405-text = This address cannot be used like this. Nothing was stored.
e413-title = Too large
e413-text = A form may hold 1 MB, a file 25 MB. Nothing was stored. Go back: what you typed is still there.
e421-title = Not this shop’s address
e421-text = Open { $address } instead.
e500-title = Something broke
e500-text = The fault is in the program, not in what you typed. What was stored before is safe. Reference for whoever looks after it: { $reference }
e503-title = The record could not be written
e503-text = The disk may be full, or the record may be in use. What you typed is below. Put it right, then send it again: it is stored once.

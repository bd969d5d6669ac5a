# The crew's page at the work place: no job, no login.

crew-title = Set a tool
crew-what-for = Pick what you set. Then measure, and get the turns.
crew-next = Next
crew-tool = Tool
crew-other = Another tool or fastener
crew-remembered = As last time on this phone.
crew-no-sheets = No tool is described here yet. Ask the shop.
crew-no-fastener = This tool’s sheet says of no fastener how it is set. Ask the shop.
crew-no-such = “{ $named }” is not among the sheets for this. Pick one of: { $known }.
crew-code = { $code } (stack { $min } to { $max } mm)
crew-code-hint = Stamped on the pin’s head or printed on the carton.
crew-stick-out = Stick-out of each pin
crew-clamp = Sheets clamped tight, head seated, no washer or collar left on.
crew-hand-caliper = Reckoned with a plain hand caliper, ± { $doubt } mm (common practice, no source).
crew-other-gauge = Measured with a gauge of the shop
crew-caliper-range = A hand caliper reads { $min } to { $max } mm; { $value } is outside. Check the reading.
crew-most-pins = At most { $most } pins. Leave the others out.
crew-own = This tool’s own turns. The table says { $table }.
crew-own-far = This tool’s past lies too far from the table. Something else may be wrong. Ask the shop.
crew-order-newer-card = First these turns: this card is older than the last set-up. Ask the shop for the newer card.
crew-order-left-out = From the sheet’s table: this tool’s past says nothing any more. The card stands first, for the value that stands on it.
crew-newer-card = A newer card exists: the shop has set this tool up since this one was printed. Do not set by this card.
crew-stopped = Do not set with this tool’s setting: a bad joint was reported { $at }. Ask the shop.
crew-stopped-card = That goes for the card, too. The shop clears it by a new set-up, or by declining the report.
crew-more-pins = Measure two more pins
crew-more-pins-why = Inside the band, but so near its end that the uncertainty reaches over it. More pins make it smaller.
crew-finer = Too near the end
crew-finer-why = The uncertainty reaches over the end of the band. Take a better gauge, or ask the shop. Do not set.
crew-band = The band is { $band }.
crew-order-own = First the card, for the value that stands on it. Then these turns. Then the table.
crew-order-no-past = From the sheet’s table: no past of this tool is known. The card stands first, for the value that stands on it.
crew-order-table = From the sheet’s table, not this tool’s own. The tool’s card stands first.
crew-safe-heading = Make it safe
crew-joints = Set a joint in scrap and read it
crew-joint-caution = Eye protection, collector fitted, nobody behind or in line. Fingers off the fastener. Scrap of the same thickness and coating.
crew-cautions = Cautions of this tool’s sheet
crew-picture = A good joint, drawn to scale
crew-structure = This page does not say that any structure is safe: that is for the engineer of record, the drawing and the local code.
crew-link = Set a tool at the work place
crew-link-login = No passphrase is needed for it.

## Joints that a crew sends

crew-send-heading = Tell the shop: set, and good, or not good
crew-send-scan = To send what you read, open this page with the code on the tool’s set-up card.
crew-send-waits = It waits at the shop. Nothing is changed by it before a technician has looked.
crew-link-void = The links of this tool’s card were renewed. Nothing was sent. Ask the shop for a new card.
crew-link-wrong = This link was not made here for this tool and setting. Nothing was sent. Scan the code on the card again.
crew-link-void-top = This card’s code is void: the shop renewed the links. Below is the sheet’s table, not this tool’s own turns, and nothing can be sent. Ask the shop for a new card.
crew-link-wrong-top = This link was not made here for this tool and setting. Below is the sheet’s table, not this tool’s own turns, and nothing can be sent. Scan the code on the card again.
crew-answer-void = The card is void: this is not this tool’s setting, only the sheet’s.
crew-answer-wrong = The link is not this tool’s: this is not its setting, only the sheet’s.
crew-ask-shop = Ask { $shop }, { $place }, for a new card before you set a joint.
crew-ask-maker-of-card = Ask the shop that printed the card for a new one before you set a joint.
crew-send-no-link = Nothing can be sent over this link: see the top of the page.
crew-turns-far = { $value } turns is too far from the { $given } that this page gives for the stick-out. Look at the adjuster and at the pins again. If it stands so, do not set: ask the shop.
crew-stick-out-not-sent = The stick-out is refused: see above. A joint that is not good can be reported without it.
crew-stick-out-left-out = Sent without the stick-out: it was refused.
crew-turns = Turns that the adjuster stands at
crew-name = Your name or crew number
crew-name-hint = For questions. It can be erased later.
crew-who = Enter your name or crew number.
crew-good = The joints
crew-good-yes = Set, looked at all round, and good
crew-good-no = Set, and not good
crew-good-no-hint = Stop using this setting. Readings may stay empty.
crew-pick-good = Say whether the joints are good.
crew-seen = If one is not good: what it looks like
crew-bad-by-what = Good to the eye and within its limits: what is bad? Pick what it looks like, enter the reading that is beyond, or write a remark.
crew-good-by-eye = A joint that looks so is no good joint. Send it as not good, or pick “Good”.
crew-send = Send to the shop
crew-sent = Sent. It waits for a technician.
crew-stop = Stop
crew-sent-bad = Sent as not good. Do not set with this setting. Send the tool in, or ask the shop before you go on.
crew-bad-joint-left = Mark the joint. What becomes of it is for the drawing, the local code and the engineer of record.
crew-send-wait = Too much was sent from here. What you typed is still there. Send it again in { $minutes ->
    [one] one minute
   *[other] { $minutes } minutes
  }.
crew-joints-count = Enter the readings of one to { $most } joints.
crew-joint-unread = Joint { $n } has no reading. Read at least one thing of each joint, or leave its boxes empty and those after it.
crew-joint-bad = Joint { $n }: { $what } is { $value }, beyond the limit. That is no good joint. Stop, mark it, and send it as not good.
crew-sheet-gone = The sheets no longer say how this is set. Ask the shop for a new card.
crew-inbox-full = { $count } reports of this tool wait already. Call the shop.
crew-busy = Others write to this inbox right now. Send it again.
crew-address = “{ $address }” is no address for cards. Give it as a browser opens it, like http://bench-2:4517.

crew-pick = Name the fastener, and its grip code and the nose set where there are several.

## The inbox at the bench

inbox-link = { $count ->
    [one] One report from a crew
   *[other] { $count } reports from crews
  }
inbox-title = From the crews
inbox-hint = Sent over the link on a tool’s card: names are said, not proved. Nothing counts before you accept it.
inbox-empty = Nothing waits.
inbox-of-tool = From the crews
inbox-none = No crew has sent anything with this tool.
inbox-joints = { $count ->
    [one] one joint
   *[other] { $count } joints
  }, set and found good
inbox-joints-bad = { $count ->
    [0] nothing measured
    [one] one joint measured
   *[other] { $count } joints measured
  }
inbox-bad = Reported as not good.
inbox-stick-out = stick-out { $mm } mm
inbox-stroke = stroke { $mm } mm
inbox-unmeasured = no stick-out sent
inbox-no-turns = No turns sent
inbox-given = the page gave { $turns }
inbox-table = the table says { $turns }
inbox-signed-off = signed off at { $turns }
inbox-apart = do not belong together
inbox-apart-why = The turns lie far from what the tool is set to for such pins. Mistyped? Ask the crew before you accept.
inbox-odd = odd values
inbox-odd-why = The turns are right, but the joints read { $read } mm on the mean, where such turns give { $foretold } ± { $most } mm. A slip of the gauge or the pen, or something wrong with tool or pins? Ask the crew before you accept. Accepted or not, they say nothing of this tool’s own turns.
inbox-belongs = yes
inbox-joint = Joint
inbox-reading = Read
inbox-accept = Accept as evidence
inbox-note = Noted
inbox-decline-summary = Decline
inbox-take-back = Take it back
inbox-decline = Decline
inbox-accepted = Accepted as evidence.
inbox-noted = Noted. It counts for no setting.
inbox-declined = Declined.
inbox-reason = Why
crew-reason = Write why.
crew-not-waiting = It does not wait any more: somebody has settled it. Nothing was changed.
card-link = Open the page that the code on its card opens
card-link-none = No set-up of this tool was signed off, so there is no card with a code.
card-link-how = Start the program with --address-on-cards and the address under which phones reach it: the code on set-up cards then opens the crew’s page.
renew-links = Make the links on its cards void
renew-links-hint = Renewed { $count ->
    [0] never
    [one] once
   *[other] { $count } times
  }. After it, links on cards printed so far send nothing. Print a new card.
renew-links-go = Renew the links
entry-crew-joints-sent = Joints from a crew
entry-crew-joints-accepted = Joints of a crew accepted
entry-crew-joints-declined = Joints of a crew declined
entry-crew-links-renewed = Links on cards renewed

## At the prompt

column-fastener = fastener
column-code = code
column-joints-are = joints are
column-measured = measured mm
column-turns = turns
column-table = table
column-signed-off = signed off
column-belongs = turns belong
column-joints = joints
prompt-inbox-done = Done.
prompt-tool-none = No tool has the serial { $serial }.
prompt-tools-many = More than one tool has the serial { $serial }. Use the page of the tool.

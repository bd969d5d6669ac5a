# Photos and files of a job, backup and restore.

## Attaching

entry-file-attached = Photo or file
refuse-file-stage = This part of the job is not open. Attach the file where the work is.
refuse-file-again = “{ $name }” is attached here already.
refuse-file-none = Pick a photo or file.
file-summary = Add a photo or file
file-kept = Sent already, and attached with this form:
field-file = Photos or files
file-hint = JPEG, PNG, WebP, PDF or plain text, up to { $most } MB each. The place where a photo was taken is removed from it.
field-camera = Or take a photo
field-file-note = Caption
button-file = Attach
file-size-kb = { $size } KB
file-size-mb = { $size } MB
file-too-many = A form may hold { $most } files. Send the others with another.
file-upload-limit = This is more than { $most } MB: too much to be read. Send fewer or smaller files.
file-typed-limit = This caption is too long. Shorten it.
file-broken-off = The sending broke off. Send it again.

## What is wrong with a file

file-is-jpeg = JPEG photo
file-is-png = PNG picture
file-is-webp = WebP picture
file-is-pdf = PDF document
file-is-text = plain text
file-is-svg = SVG drawing
file-is-html = web page
file-is-xml = XML file
file-is-gif = GIF picture
file-is-bmp = BMP picture
file-is-tiff = TIFF picture
file-is-heif = HEIC photo
file-is-video = film
file-is-sound = sound recording
file-is-zip = ZIP archive or office document
file-is-office = office document
file-is-archive = packed archive
file-is-program = program
file-is-unknown = file of no known kind
file-not-taken = “{ $name }” is not taken. What it is: { $is }. Send a JPEG, PNG or WebP picture, a PDF, or plain text.
file-not-what-it-says = “{ $name }” is not what its name says. By its name: { $says }. By its content: { $is }. Check that it is the right file and give it the right name.
file-too-large = “{ $name }” has { $size } MB. A photo, a paper and what is not plain text throughout may have { $most } MB. Send a smaller picture of it; export a recording as CSV.
file-recording-too-large = “{ $name }” has { $size } MB. A recording may have { $most } MB. Have the logger begin a new file sooner, and bring its parts one by one.
file-empty = “{ $name }” is empty. Send it again.
file-truncated = “{ $name }” breaks off before its end. Send it again, or take the photo again.
file-damaged = “{ $name }” is damaged: it cannot be shown. Take the photo again.
file-pixels = “{ $name }” has { $size } million pixels. A picture may have { $most } million. Send a smaller one.
file-unreadable = This picture cannot be shown.
verify-file-missing = File “{ $name }”, { $hash }, is missing or cannot be read.
verify-file-changed = File “{ $name }”, { $hash }, was changed.

## Backup and restore

backup-exists = { $path } is there already. Name a new folder.
backup-is-none = { $path } is no backup.
backup-half = { $path } is a backup that broke off: it is not whole and is not restored. Take another one.
backup-other-version = { $path } was made by Setwright { $program }, in a form that this one does not read.
backup-differs = The backup { $path } is damaged. { $what } should be { $should } and is { $is }.
backup-disk = { $path }: { $why }
restore-store-exists = { $path } holds a record. Nothing was touched. Add --keep-old to put that record aside, or name another file.
store-half-restored = A restore of this record broke off. Run the same restore again: it goes on where it stopped.
backup-step-record = Copying the record
backup-step-file = Copying file { $n } of { $of }
backup-step-manifest = Writing down what was copied
backup-step-check = Comparing the copy
backup-step-place = Putting it in its place
backup-made = { $path }: { $entries } entries, the last is { $seq }; { $files } files. Restored for a test, compared, and whole.
backup-faults = The backup is true to the record, but the record has these faults.
restore-done = { $path }: { $entries } entries, the last is { $seq }; { $files } files. What was written after { $made } is not in it.
restore-was-finished = An earlier restore of this backup had broken off. It is finished now.
restore-kept = The record that was there is kept in { $path }
restore-faults = The backup is restored as it was made, from a record with these faults.
verify-orphans = { $count ->
    [one] One file belongs
   *[other] { $count } files belong
  } to no entry: sent, and not attached. They do no harm.
files-none = Job { $job } has no file with a hash that begins with “{ $hash }”.
files-several = Several files of job { $job } have a hash that begins with “{ $hash }”. Type more of it.
files-lost = The file { $hash } is missing. Run `setwright verify`.

## On the report

paper-photos = Photos
paper-photo-lost = This picture cannot be shown.
paper-files = Files kept with the record
paper-file = File
paper-stage = Part of the job
paper-hash = SHA-256

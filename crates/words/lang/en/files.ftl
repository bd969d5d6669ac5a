# Photos and files of a job, backup and restore.

## Attaching

entry-file-attached = Photo or file
refuse-file-stage = This part of the job is not open. Attach the file where the work is.
refuse-file-again = “{ $name }” is attached here already.
refuse-file-none = Pick a photo or file.

"""The sentences of the command that writes the looks."""

from webapp.words.catalogue import mark

COMMAND = mark("write a page with every colour, size and part of the screens, by day and by night")
FOLDER = mark("where the page and its style sheets go; it is made if it is missing")
WRITTEN = mark("%(path)s is written. Open it in a browser.")
FOREIGN = mark("%(path)s holds other files already; name a new folder, or one that this command has written before.")
CANNOT_WRITE = mark("%(path)s cannot be written (%(why)s); name a folder that may be written to.")

"""The sentences about the file of the records: why it cannot be used, and what backup, restore and check did.

May know codes and the values they name; nothing of files.
"""

from collections.abc import Mapping

from webapp.words.catalogue import Words, mark

FAULTS = {
    "missing": mark(
        "There is no database at %(path)s. Look at the name in HALFTURN_DB. If it was deleted, put a backup back:"
        " halfturn restore FILE. To make a new, empty one: halfturn migrate."
    ),
    "was_here": mark(
        "There is no database at %(path)s, but %(acts)s lies there: one was here before. Put a backup back: halfturn"
        " restore FILE. If a new, empty one is truly wanted, move that file away first."
    ),
    "no_folder": mark("HALFTURN_DB is %(path)s; its folder must exist: make the folder first, or name another file."),
    "folder_shut": mark(
        "The folder %(folder)s of the database %(path)s cannot be read and written by this user. Give this user the"
        " folder, or name another file in HALFTURN_DB."
    ),
    "not_ours": mark(
        "%(path)s is not a database of Halfturn. Look at the name in HALFTURN_DB; if this is the right file, put a"
        " backup in its place: halfturn restore FILE."
    ),
    "unreadable": mark(
        "%(path)s cannot be read as a database (%(why)s). Nothing was changed. If this user may read the file, put a"
        " backup in its place: halfturn restore FILE."
    ),
    "damaged": mark(
        "The database %(path)s is damaged (%(why)s). It is not served, so that it does not get worse. Put a backup in"
        " its place: halfturn restore FILE."
    ),
    "read_only": mark(
        "The database %(path)s cannot be written (%(why)s). Let this user write the file and its folder, and see that"
        " the disk is not full."
    ),
    "not_owned": mark(
        "%(path)s belongs to another user, and others may read it. Make it this user's own (chown), and try again."
    ),
    "newer": mark(
        "The database %(path)s was made by a newer Halfturn (it has %(what)s). Install that version, or a later one."
    ),
    "marked": mark(
        "%(path)s is a backup, made at %(made_at)s, and is not served. Put it back with: halfturn restore %(path)s"
    ),
    "weak_key": mark(
        "The key that signs cookies in %(path)s is missing or too short to be safe. Draw another with: halfturn restore"
        " %(path)s. Everybody who is signed in must then sign in again."
    ),
    "acts_missing": mark(
        "%(acts)s is missing beside the database %(path)s. So this file was moved here, or put back from a copy by hand."
        " Move that file here too; or, where it is lost, make the database safe to serve: halfturn restore %(path)s"
    ),
    "acts_of_another": mark(
        "%(acts)s belongs to another database than %(path)s. So this file was put here by hand. Make it safe to serve:"
        " halfturn restore %(path)s"
    ),
    "went_back": mark(
        "The database %(path)s is older than the one that was last served here: %(acts)s acts, such as a phone revoked"
        " or a routine pushed, are not in it. Make it safe to serve: halfturn restore %(path)s"
    ),
    "acts_unwritten": mark(
        "%(path)s could not be written (%(why)s). What was done last is in the database, but a restore may not know of"
        " it. Make room on the disk, let this user write the folder, and do it once more."
    ),
    "gone": mark(
        "The database %(path)s was taken away while it was served. Nothing is kept until it is back: stop the server,"
        " put a backup back with halfturn restore FILE, and serve again."
    ),
    "replaced": mark(
        "Another file was put in the place of the database %(path)s while it was served. Nothing is kept until the"
        " server is stopped and started again."
    ),
    "in_use": mark("Something still has the database %(path)s open. Stop the server first, then restore."),
    "missing_copy": mark("There is no file %(path)s to restore from. Nothing was changed."),
    "copy_exists": mark("%(path)s is there already. Nothing was changed; try again."),
    "unsound": mark(
        "%(path)s is not sound (findings: %(count)s; the first: %(first)s). No copy was kept or deleted. To see all: halfturn check"
    ),
    "no_file": mark("%(path)s cannot be used (%(why)s). Give the path of another file."),
    "no_place": mark(
        "The folder %(path)s does not exist or cannot be written. Make it first, or name another folder with --to."
    ),
    "storage": mark("The disk or the file did not take it (%(why)s), at %(path)s. Nothing was changed."),
}

TROUBLES = {
    "pages": mark("The file is damaged: %(told)s"),
    "references": mark("A row of the table %(table)s (%(row)s) names a row of %(parent)s that is not there."),
    "numbering": mark(
        "The entries of client %(client)s do not count up: there are %(count)s, the last has number %(newest)s."
    ),
    "contents": mark("The entry %(id)s of client %(client)s is not what it was when it was stored."),
    "folds": mark("What was worked out for client %(client)s up to %(day)s is not what the log gives."),
    "unreadable": mark(
        "The log of client %(client)s cannot be read through (%(why)s). If another line names an entry of this client, or if"
        " the disk was at fault, put a backup from before that back: halfturn restore FILE. Else the fault is the program's."
    ),
    "summaries": mark("What the caseload shows of client %(client)s is not what the log gives."),
    "receipts": mark("Version %(version)s of client %(client)s is noted as received, and no entry says so."),
}

COMMANDS = {
    "backup": mark("copy the database while it is served, check the copy, and keep the newest copies"),
    "restore": mark("put a backup in the place of the database, safely; stop the server first"),
    "carry-out": mark("write every client of every practice into one file, our own JSON"),
    "bring-in": mark("take such a file into a practitioner's caseload: all of it, or nothing where it has a fault"),
    "check": mark("check that the database is whole, and that what was worked out from the log fits the log"),
}
OPTIONS = {
    "--to": mark("the folder for the copy; the database's own folder if left out"),
    "--keep": mark("how many copies to keep; older ones are deleted (default 14)"),
    "FILE": mark("the copy to put back"),
    "OUT": mark("the file to write; nobody else may read it, and there must be none of this name yet"),
    "IN": mark("the file to take in"),
    "--for": mark("the e-mail address of the practitioner who takes the clients on"),
    "--confirm-phones": mark(
        "the practitioner must confirm every phone; for when the whole folder was restored from an older state"
    ),
}
KEEP_RULE = mark("--keep is %(value)s; it must be 1 or more.")

CARRIED_OUT = mark("%(path)s holds %(count)s clients. Whoever has the file can read all of it.")
BROUGHT_IN = mark("%(name)s has these clients now (%(count)s). Invite their phones anew.")
NOBODY_WITH = mark("Nobody signs in with %(email)s, so nothing was taken in.")
NOTHING_TAKEN = mark("Nothing was taken in; the file has faults:")
COPIED = mark("%(path)s holds everything up to now (%(kilobytes)s kB). The copy was checked.")
DROPPED = mark("Deleted, because there are %(keep)s newer copies: %(names)s")
CHECKED = mark("%(path)s is sound.")

PUT_BACK = mark(
    "%(copy)s is now the database %(path)s. Every phone that syncs sends all its entries again; copies count once."
)
KEPT = mark("The database that was there before is kept as %(kept)s.")
SIGNED_OUT = mark("Every practitioner must sign in again. The passwords are those of the copy.")
WITHDRAWN = mark("Invitations that nobody had used are withdrawn (%(count)s): make new ones.")
REVOKED = mark("Phones that had been revoked after the copy was made stay revoked (%(count)s).")
REMOVED_AGAIN = mark("Clients who had been removed after the copy was made are removed again (%(count)s).")
TO_CONFIRM = mark(
    "It is not known which phones were revoked after the copy was made. Each phone (%(count)s) waits until the"
    " practitioner confirms it on its case page; its entries stay on it."
)
NUMBERS = mark("Routine versions go on at a number that was never used, so that no number means two routines.")


def fault_of_records(words: Words, code: str, gaps: Mapping[str, object]) -> str:
    """Say what is wrong with the file of the records.

    Raises:
        KeyError: There is no such code.
    """
    return words.say(FAULTS[code], **gaps)

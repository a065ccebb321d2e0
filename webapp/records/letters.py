"""How many letters of a client the practice has not read. Two small indexes hold them apart from the rest of the log."""

from webapp.records.database import Database

_WHOLE = "CASE WHEN json_valid(raw) THEN raw END"
"""A damaged entry names nothing: the fold tells of it, and counting letters must not keep a phone's entries out."""
_UNREAD = f"""
SELECT COUNT(*) FROM (
    SELECT id FROM events WHERE client = :client AND kind = 'letter_written'
    EXCEPT SELECT named.value FROM events, json_each({_WHOLE}, '$.body.letters') named
        WHERE client = :client AND kind = 'letter_seen'
    EXCEPT SELECT json_extract({_WHOLE}, '$.body.replaces') FROM events
        WHERE client = :client AND kind = 'entry_corrected' AND json_extract({_WHOLE}, '$.body.body') IS NULL)
"""


def unread_of_client(db: Database, client: int) -> int:
    """Return the number of a client's letters that are neither read by the practice nor taken back."""
    return int(db.execute(_UNREAD, {"client": client}).fetchone()[0])

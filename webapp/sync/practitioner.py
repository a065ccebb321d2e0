"""The practitioner as the phones of a client show them."""

from webapp.records import practitioners
from webapp.records.database import Database
from webapp.wire.sync import PractitionerShown


def practitioner_shown(db: Database, client: int) -> PractitionerShown:
    """Return the practitioner of a client: the name, and how the client reaches them."""
    name, reach = practitioners.reach_for(db, client)
    return PractitionerShown(
        name=name, telephone=reach.telephone, hours=reach.hours, email=reach.email, letters_read=reach.letters_read
    )

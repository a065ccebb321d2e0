"""The practitioner as the phones of a client show them."""

from webapp.records import practitioners
from webapp.records.database import Database
from webapp.records.practitioners import Reach
from webapp.wire.sync import PractitionerShown


def practitioner_shown(db: Database, client: int) -> PractitionerShown:
    """Return the practitioner of a client: the name, and how the client reaches them."""
    return _shown(*practitioners.reach_for(db, client))


def shown_of(db: Database, practitioner: int) -> PractitionerShown:
    """Return a practitioner as somebody sees them who is asked to become their client."""
    return _shown(*practitioners.told_by(db, practitioner))


def _shown(name: str, reach: Reach) -> PractitionerShown:
    return PractitionerShown(
        name=name, telephone=reach.telephone, hours=reach.hours, email=reach.email, letters_read=reach.letters_read
    )

"""The case page says of each phone whether its client agreed that the practitioner sees the answers."""

import pytest

from webapp.records import devices
from webapp.records.database import write
from webapp.words.consent import CONSENT_MARK

AGREED, EARLIER = "agreed that you see the answers", "agreed to earlier words"


@pytest.mark.parametrize(("agreed", "said"), [(CONSENT_MARK, [AGREED]), ("of another year", [EARLIER]), ("", [])])
def test_a_phone_is_listed_with_what_was_agreed_to(site, hedda, agreed, said):
    with write(site.db):
        devices.join(site.db, site.founder.id, "a phone", site.clock(), agreed)
    hedda.open(f"/practice/cases/{site.founder.public_id}")
    assert [each for each in (AGREED, EARLIER) if each in hedda.text] == said

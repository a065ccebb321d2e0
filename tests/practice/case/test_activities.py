"""The client's own activities on the case page: written down by the practitioner, rated by the client."""

from tests import builders
from webapp.records import events

CASE = "/practice/cases/ansgar0001"
TODAY = builders.date(2026, 3, 9)
KETTLE, KEY = "Lifting the kettle", "Turning a key"


def _write(hedda, *names):
    hedda.open(CASE)
    fields = {f"activities-activity_{number}": name for number, name in enumerate(names, 1)}
    return hedda.fill("/activities", fields, post_to=f"{CASE}/activities")


def test_what_is_written_down_goes_to_the_phones_and_stands_on_the_page(site, hedda):
    site.begin(site.founder, [])
    _write(hedda, KETTLE, KEY, KETTLE)
    named = events.of_kind(site.db, site.founder.id, "activities_named")
    assert [each.kind for each in named] == ["activities_named"]
    hedda.open(CASE)
    assert f"{KETTLE} not rated yet" in hedda.text
    assert KEY in hedda.text


def test_ratings_stand_beside_their_activity(site, hedda):
    site.begin(site.founder, [builders.event("activity_rated", TODAY, {"activity": KETTLE, "rating": 6}, seq=30)])
    _write(hedda, KETTLE)
    hedda.open(CASE)
    assert f"{KETTLE} Mon 9 Mar 2026: 6" in hedda.text


def test_a_name_that_is_too_long_is_refused_and_stays(site, hedda):
    site.begin(site.founder, [])
    _write(hedda, "x" * 81)
    assert not events.of_kind(site.db, site.founder.id, "activities_named")

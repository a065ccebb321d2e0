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


def test_the_same_form_sent_twice_writes_once_and_a_colleagues_window_is_noticed(site, hedda):
    site.begin(site.founder, [])
    hedda.open(CASE)
    old = hedda.form("/activities")
    for _ in range(2):
        hedda.fill("/activities", {"activities-activity_1": KETTLE}, post_to=f"{CASE}/activities", follow=False)
        hedda.open(CASE)
    for activity, status in ((KETTLE, 303), (KEY, 409)):
        old["activities-activity_1"] = activity
        assert hedda.send(f"{CASE}/activities", old).status_code == status
    assert "Nothing was saved: while this page was open, the activities were changed." in hedda.text
    assert f'value="{KEY}"' in hedda.page.text
    assert len(events.of_kind(site.db, site.founder.id, "activities_named")) == 2

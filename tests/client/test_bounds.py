"""A phone that has sent too much today is told so, keeps its entries, and is heard again tomorrow."""

from datetime import timedelta

from tests.builders import session, uuid7
from tests.cast import FIRST_DAY
from webapp.records import events


def _long(first, count):
    return [
        {**session(FIRST_DAY), "id": uuid7(number), "weather": "f" * 30_000} for number in range(first, first + count)
    ]


def test_a_phone_that_runs_in_circles_is_refused_until_tomorrow(phone, db, ansgar, clock):
    sent, read = 0, {}
    while (answer := phone.sync(*_long(sent, 12), **read)).status_code == 200:
        sent, read = sent + 12, {name: answer.json[name] for name in ("cursor", "epoch")}
        assert sent < 1000, "there is an end to it"
    assert events.newest_seq(db, ansgar.id) == sent
    error = answer.json["error"]
    assert (answer.status_code, error["code"], error["again"]) == (429, "too_much_today", True)
    assert answer.headers["Retry-After"] == str(int(timedelta(hours=14, minutes=30).total_seconds()))
    assert "All of it stays on the phone and is sent tomorrow." in error["message"]
    assert phone.sync(**read).status_code == 200, "what is new for the phone still reaches it"
    clock.now += timedelta(hours=14, minutes=30)
    assert phone.sync(*_long(sent, 12), **read).status_code == 200

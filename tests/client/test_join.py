from datetime import timedelta

import pytest

from webapp.records import devices, invitations


def test_an_invitation_sets_a_cookie_that_scripts_cannot_read(stranger, ansgar):
    answer = stranger.join(token=ansgar.token)
    assert answer.json == {"client": {"id": "ansgar0001"}, "device": stranger.device, "locale": "en"}
    cookie = answer.headers["Set-Cookie"]
    assert cookie.startswith("halfturn_device=")
    assert {"HttpOnly", "Path=/", "SameSite=Lax", "Max-Age=34560000"} <= set(cookie.split("; "))
    assert "Partitioned" not in cookie


def test_over_tls_the_cookie_is_bound_to_the_host(secure_app, ansgar):
    browser = secure_app.test_client()
    own = {"Sec-Fetch-Site": "same-origin"}
    answer = browser.post("/api/join", json={"token": ansgar.token}, headers=own)
    cookie = answer.headers["Set-Cookie"]
    assert cookie.startswith("__Host-halfturn_device=")
    assert "Secure" in cookie.split("; ")
    assert "Domain" not in cookie
    assert browser.get("/api/me").status_code == 200


def test_a_code_joins_too(stranger, db, ansgar, clock):
    code = invitations.make_code(db, ansgar.id, clock.now).code
    assert stranger.join(code=code.lower()).status_code == 200
    assert stranger.browser.get("/api/me").json["client"] == {"id": "ansgar0001"}


@pytest.mark.parametrize(
    ("told", "status", "code"),
    [
        ({"token": "n" * 30}, 400, "unknown_link"),
        ({"code": "BCDF-GHJK"}, 400, "unknown_code"),
        ({}, 400, "no_invitation"),
        ({"token": 7}, 400, "bad_request"),
    ],
    ids=["link", "code", "neither", "number"],
)
def test_a_refusal_has_a_code_a_sentence_and_says_whether_to_try_again(stranger, ansgar, told, status, code):
    answer = stranger.join(**told)
    error = answer.json["error"]
    assert (answer.status_code, error["code"], error["again"]) == (status, code, False)
    assert error["message"].endswith((".", "`$.token`"))
    assert "Set-Cookie" not in answer.headers


def test_a_used_or_old_invitation_is_gone(stranger, ansgar, isaura, clock):
    stranger.join(token=ansgar.token)
    assert stranger.join(token=ansgar.token).status_code == 410
    clock.now += timedelta(days=15)
    answer = stranger.join(token=isaura.token)
    assert (answer.status_code, answer.json["error"]["code"]) == (410, "over")


def test_too_many_wrong_codes_are_told_when_to_come_back(stranger, ansgar):
    for _ in range(5):
        assert stranger.join(code="BCDF-GHJK").status_code == 400
    answer = stranger.join(code="BCDF-GHJK")
    assert (answer.status_code, answer.json["error"]["again"]) == (429, True)
    assert answer.headers["Retry-After"] == "3600"
    assert "60 minutes" in answer.json["error"]["message"]


def test_leaving_ends_the_phone_and_takes_its_cookie(phone, db, ansgar):
    answer = phone.browser.post("/api/leave", headers={"Sec-Fetch-Site": "same-origin"})
    assert answer.status_code == 200
    assert "Max-Age=0" in answer.headers["Set-Cookie"]
    assert phone.browser.get("/api/me").status_code == 401
    assert devices.of_client(db, ansgar.id) == []


def test_a_phone_that_comes_by_keeps_its_cookie_alive_for_more_than_a_year(phone, clock):
    assert "Set-Cookie" not in phone.browser.get("/api/me").headers
    clock.now += timedelta(days=179)
    assert "Max-Age=34560000" in phone.sync().headers["Set-Cookie"]
    clock.now += timedelta(days=179)
    assert phone.sync().status_code == 200


def test_a_phone_that_lies_in_a_drawer_for_half_a_year_must_join_again(phone, clock):
    clock.now += timedelta(days=181)
    assert phone.sync().status_code == 401

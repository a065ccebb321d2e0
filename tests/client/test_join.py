import re
from datetime import timedelta

import pytest

from tests.cast import HEDDA
from tests.client.conftest import OWN
from webapp.records import devices, invitations, practitioners
from webapp.records.practitioners import Reach
from webapp.words.consent import AGREE_BY_CODE, CONSENT_MARK, OTHERS_SEE, PHONE_KEEPS, PRACTICE_SEES

REACHED = {
    "name": HEDDA.name, "telephone": "555 0102", "hours": "weekdays 9 to 17", "email": "", "letters_read": "",
}  # fmt: skip


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
    ("invitation", "status", "code"),
    [
        ({"token": "n" * 30}, 400, "unknown_link"),
        ({"code": "BCDF-GHJK"}, 400, "unknown_code"),
        ({}, 400, "no_invitation"),
        ({"token": 7}, 400, "bad_request"),
    ],
    ids=["link", "code", "neither", "number"],
)
def test_a_refusal_has_a_code_a_sentence_and_says_whether_to_try_again(stranger, ansgar, invitation, status, code):
    answer = stranger.join(**invitation)
    error = answer.json["error"]
    assert (answer.status_code, error["code"], error["again"]) == (status, code, False)
    assert error["message"].endswith((".", "`$.token`"))
    assert "Set-Cookie" not in answer.headers


def test_a_used_or_old_invitation_is_gone(phone, stranger, ansgar, isaura, clock):
    assert stranger.join(token=ansgar.token).status_code == 410
    clock.now += timedelta(days=15)
    answer = stranger.join(token=isaura.token)
    assert (answer.status_code, answer.json["error"]["code"]) == (410, "over")


def test_too_many_wrong_codes_are_told_when_to_come_back(stranger, ansgar):
    for _ in range(20):
        assert stranger.join(code="BCDF-GHJK").status_code == 400
    answer = stranger.join(code="BCDF-GHJK")
    assert (answer.status_code, answer.json["error"]["again"]) == (429, True)
    assert answer.headers["Retry-After"] == "3600"
    assert "60 min" in answer.json["error"]["message"]


def test_a_link_opened_again_on_the_phone_that_used_it_lets_it_in(phone, db, ansgar, clock):
    device = phone.device
    clock.now += timedelta(days=20)
    again = phone.join(token=ansgar.token)
    assert (again.status_code, again.json["device"]) == (200, device)
    assert phone.browser.get("/api/me").json["device"] == device
    assert [device_row.id for device_row in devices.of_client(db, ansgar.id)] == [device]


def test_a_used_code_typed_again_on_its_phone_lets_it_in(stranger, db, ansgar, clock):
    code = invitations.make_code(db, ansgar.id, clock.now).code
    first = stranger.join(code=code).json["device"]
    assert stranger.join(code=code).json["device"] == first
    assert len(devices.of_client(db, ansgar.id)) == 1


def test_a_phone_that_has_joined_uses_no_further_invitation_of_its_client_up(phone, stranger, db, ansgar, clock):
    spare = invitations.make_link(db, ansgar.id, clock.now).token
    assert phone.join(token=spare).status_code == 200
    assert stranger.join(token=spare).status_code == 200
    assert len(devices.of_client(db, ansgar.id)) == 2


@pytest.mark.parametrize("kind", ["link", "code"])
def test_a_phone_stays_its_clients_whatever_else_is_opened_on_it(phone, stranger, db, isaura, clock, kind):
    invitation = (
        {"token": isaura.token} if kind == "link" else {"code": invitations.make_code(db, isaura.id, clock.now).code}
    )
    answer = phone.browser.post("/api/join", json=invitation, headers=OWN)
    assert (answer.status_code, answer.json["error"]["code"]) == (409, "joined_to_another")
    assert "Set-Cookie" not in answer.headers
    assert phone.browser.get("/api/me").json["client"] == {"id": "ansgar0001"}
    assert stranger.join(**invitation).status_code == 200


def test_a_phone_that_was_sent_away_needs_an_invitation_that_is_not_used(phone, db, ansgar, clock):
    devices.revoke(db, ansgar.id, phone.device, clock.now)
    assert phone.join(token=ansgar.token).status_code == 410
    assert phone.join(token=invitations.make_link(db, ansgar.id, clock.now).token).status_code == 200


def test_a_link_names_the_practitioner_with_the_number_to_ring_and_reading_it_uses_nothing_up(
    stranger, ansgar, hedda, db
):
    practitioners.change(db, hedda.id, HEDDA.name, Reach("555 0102", "weekdays 9 to 17"))
    for _ in range(3):
        answer = stranger.browser.post("/api/invitation", json={"token": ansgar.token}, headers=OWN)
        assert answer.json == {"practitioner": REACHED, "arms": ["right"], "is_joined": False, "is_group": False}
        assert "Set-Cookie" not in answer.headers
    assert stranger.join(token=ansgar.token).status_code == 200
    answer = stranger.browser.post("/api/invitation", json={"token": ansgar.token}, headers=OWN)
    assert answer.json == {"practitioner": REACHED, "arms": ["right"], "is_joined": True, "is_group": False}


def test_a_link_that_would_not_let_this_phone_in_says_so_before_it_is_pressed(phone, stranger, ansgar, isaura, clock):
    def refused(browser, token):
        return browser.post("/api/invitation", json={"token": token}, headers=OWN).json["error"]["code"]

    assert refused(stranger.browser, ansgar.token) == "used"
    assert refused(phone.browser, isaura.token) == "joined_to_another"
    assert refused(stranger.browser, isaura.token[:-1]) == "unknown_link"
    clock.now += timedelta(days=15)
    assert refused(stranger.browser, isaura.token) == "over"


def test_a_phone_that_has_joined_has_a_code_for_its_icon_on_the_home_screen(phone, stranger, db, ansgar, clock):
    answer = phone.browser.post("/api/code", json={}, headers=OWN).json
    assert answer["seconds"] == 30 * 60
    clock.now += timedelta(minutes=29)
    assert stranger.join(code=answer["code"]).json["client"] == {"id": "ansgar0001"}
    assert len(devices.of_client(db, ansgar.id)) == 2


def test_the_code_for_the_home_screen_ends_too(phone, stranger, clock):
    code = phone.browser.post("/api/code", json={}, headers=OWN).json["code"]
    clock.now += timedelta(minutes=30)
    assert stranger.join(code=code).json["error"]["code"] == "over"


def test_nobody_else_is_given_a_code(stranger, phone, ansgar):
    assert stranger.browser.post("/api/code", json={}, headers=OWN).status_code == 401
    assert phone.browser.post("/api/code", json={}, headers={"Sec-Fetch-Site": "cross-site"}).status_code == 403


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


@pytest.mark.parametrize(
    ("agreed", "kept"), [({"agreed": CONSENT_MARK}, CONSENT_MARK), ({}, ""), ({"agreed": "x" * 200}, "x" * 64)]
)
def test_the_words_that_a_client_agreed_to_are_kept_with_the_phone(stranger, db, ansgar, agreed, kept):
    stranger.join(token=ansgar.token, **agreed)
    [device] = devices.of_client(db, ansgar.id)
    assert device.agreed == kept


def test_the_page_of_the_invitation_names_the_hash_of_its_words(stranger):
    assert f'data-agreed="{CONSENT_MARK}"' in stranger.browser.get("/join").text


def test_all_that_is_agreed_to_stands_at_each_button_that_joins(stranger):
    invitation = stranger.browser.get("/join").text
    app = stranger.browser.get("/app/en/").text
    app += stranger.browser.get(re.search(r'data-later="(/[^"]+)"', app)[1]).text
    by_code = invitation[invitation.index('data-part="uninvited"') :]
    in_app = app[app.index('data-screen="join"') :]
    for words in (invitation, by_code[: by_code.index("</section>")], in_app[: in_app.index("</form>")]):
        for agreed in (AGREE_BY_CODE, PHONE_KEEPS, PRACTICE_SEES, OTHERS_SEE):
            assert agreed in words


def test_who_has_joined_in_another_browser_is_led_through_the_settings(stranger):
    app = stranger.browser.get("/app/en/").text
    app += stranger.browser.get(re.search(r'data-later="(/[^"]+)"', app)[1]).text
    for page in (stranger.browser.get("/join").text, app):
        assert "go to “Settings”, then “This phone”," in page

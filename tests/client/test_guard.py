import gzip

import brotli
import pytest

from webapp.config import Settings

ORIGIN = Settings().origin
UNSAFE = [("post", "/api/join"), ("post", "/api/leave"), ("post", "/api/sync"), ("post", "/practice/sign-in")]
EVERYWHERE = ["/", "/app/en/", "/app/service_worker.js", "/api/me", "/practice/sign-in", "/nothing-here"]


@pytest.fixture
def browser(app):
    return app.test_client()


@pytest.mark.parametrize(("method", "url"), UNSAFE)
@pytest.mark.parametrize(
    "headers",
    [
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
        {"Sec-Fetch-Site": "cross-site", "Origin": ORIGIN},
        {"Origin": "https://elsewhere.example"},
        {"Origin": "null"},
        {},
    ],
    ids=["cross-site", "same-site", "cross-site with our origin", "another origin", "no origin", "nothing said"],
)
def test_a_post_of_another_site_is_refused(browser, method, url, headers):
    answer = getattr(browser, method)(url, headers=headers, json={})
    assert answer.status_code == 403
    if url.startswith("/api/"):
        assert answer.json["error"]["code"] == "from_elsewhere"


@pytest.mark.parametrize("headers", [{"Sec-Fetch-Site": "same-origin"}, {"Sec-Fetch-Site": "none"}, {"Origin": ORIGIN}])
def test_a_post_of_our_own_page_is_let_through(stranger, ansgar, headers):
    assert stranger.join(headers=headers, token=ansgar.token).status_code == 200


def test_a_refused_post_changes_nothing(phone, stranger, ansgar):
    phone.browser.post("/api/leave", headers={"Sec-Fetch-Site": "cross-site"})
    assert phone.browser.get("/api/me").status_code == 200


@pytest.mark.parametrize("url", EVERYWHERE)
def test_every_answer_carries_the_security_headers(browser, url):
    headers = browser.get(url).headers
    policy = dict(part.strip().split(" ", 1) for part in headers["Content-Security-Policy"].split(";"))
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == "'self'"
    assert policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert headers["Cross-Origin-Opener-Policy"] == headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert "screen-wake-lock=(self)" in headers["Permissions-Policy"]
    assert "Strict-Transport-Security" not in headers


def test_over_tls_browsers_are_told_to_stay_with_it(secure_app):
    assert secure_app.test_client().get("/").headers["Strict-Transport-Security"] == "max-age=31536000"


def test_an_error_is_a_page_for_people_and_json_for_the_phone(browser):
    page, reply = browser.get("/nothing"), browser.get("/api/nothing")
    assert (page.status_code, page.mimetype) == (404, "text/html")
    assert (reply.status_code, reply.mimetype) == (404, "application/json")
    assert reply.json["error"] == {"code": "not_found", "message": "There is nothing at this address.", "again": False}
    assert browser.get("/api/sync").json["error"]["code"] == "not_allowed"


@pytest.mark.parametrize(
    ("method", "path", "body", "status", "said", "onward"),
    [
        ("get", "/nothing", b"", 404, "There is nothing at this address.", "/app/"),
        ("get", "/practice/nothing", b"", 404, "There is nothing at this address.", "/practice"),
        ("post", "/join", b"", 405, "Go back, load the page again and try once more.", "/app/"),
        ("delete", "/practice/sign-in", b"", 405, "Go back, load the page again and try once more.", "/practice"),
        ("post", "/practice/sign-in", b"email=" + b"a" * 500_000, 413, "shorten what you typed", "/practice"),
        ("get", "/practice/broken", b"", 500, "try again in a few minutes", "/practice"),
        ("get", "/broken", b"", 500, "try again in a few minutes", "/app/"),
    ],
)
def test_an_error_page_says_what_to_do_and_leads_on(app, method, path, body, status, said, onward):
    @app.get("/broken")
    @app.get("/practice/broken")
    def broken():
        raise ZeroDivisionError

    own = {"Sec-Fetch-Site": "same-origin", "Content-Type": "application/x-www-form-urlencoded"}
    page = app.test_client().open(path, method=method.upper(), data=body, headers=own)
    assert (page.status_code, page.mimetype) == (status, "text/html")
    assert said in page.text
    assert f'class="button do" href="{onward}"' in page.text


def test_a_fault_of_ours_says_that_nothing_is_lost_and_to_try_again(app):
    @app.get("/api/broken")
    def broken():
        raise ZeroDivisionError

    answer = app.test_client().get("/api/broken")
    assert (answer.status_code, answer.json["error"]["code"], answer.json["error"]["again"]) == (500, "failed", True)


def test_a_name_that_is_not_ours_is_not_answered(browser):
    answer = browser.get("/", base_url="http://elsewhere.example")
    assert answer.status_code == 400
    assert f"Open it at {ORIGIN}." in answer.text


UNPACK = {"br": brotli.decompress, "gzip": gzip.decompress}


@pytest.mark.parametrize("url", ["/practice/sign-in", "/join", "/nothing-here"])
@pytest.mark.parametrize(("accepted", "coding"), [("gzip, deflate, br, zstd", "br"), ("gzip", "gzip")])
def test_a_page_is_compressed_as_the_browser_asks(browser, url, accepted, coding):
    plain = browser.get(url)
    packed = browser.get(url, headers={"Accept-Encoding": accepted})
    assert packed.headers["Content-Encoding"] == coding
    assert len(packed.data) < len(plain.data) / 1.5
    assert int(packed.headers["Content-Length"]) == len(packed.data)
    unpacked = UNPACK[coding](packed.data)
    assert b"<!doctype html>" in unpacked
    assert b"</html>" in unpacked


# RFC 9110, section 12.5.3: a weight of 0 refuses a coding, and without the header nothing is asked for.
@pytest.mark.parametrize("headers", [{}, {"Accept-Encoding": "gzip;q=0, br;q=0"}, {"Accept-Encoding": "br;q=0, zstd"}])
def test_a_page_goes_out_as_it_is_where_nobody_asks_otherwise(browser, headers):
    page = browser.get("/practice/sign-in", headers=headers)
    assert "Content-Encoding" not in page.headers
    assert "Accept-Encoding" in page.headers["Vary"]


def test_a_short_answer_is_not_worth_compressing(browser):
    answer = browser.get("/api/me", headers={"Accept-Encoding": "br"})
    assert (answer.status_code, "Content-Encoding" in answer.headers) == (401, False)


@pytest.mark.parametrize(
    ("site", "is_packed"), [("cross-site", False), ("same-site", False), ("same-origin", True), ("none", True)]
)
def test_the_length_of_a_page_that_another_site_leads_to_tells_nothing(browser, site, is_packed):
    page = browser.get("/practice/sign-in", headers={"Accept-Encoding": "br", "Sec-Fetch-Site": site})
    assert ("Content-Encoding" in page.headers) is is_packed


def test_what_is_packed_already_is_not_packed_twice(browser):
    shell = browser.get("/app/en/", headers={"Accept-Encoding": "gzip"})
    assert gzip.decompress(shell.data) == browser.get("/app/en/").data

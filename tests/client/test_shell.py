import hashlib
import json
import re
from collections import Counter

import pytest

from webapp.client.assets import read_assets
from webapp.dosing.settings import BOUNDS
from webapp.packing import packed_dir

KEPT = ["/app/en/", "/app/en/manifest.webmanifest", "/app/service_worker.js"]
OUTSIDE = ["/", "/join", "/app/recover"]


@pytest.fixture
def browser(app):
    return app.test_client()


@pytest.fixture
def worker_line(browser):
    """The values in the line at the top of the service worker."""
    first = browser.get("/app/service_worker.js").text.split("\n", 1)[0]
    return json.loads(re.fullmatch(r"self\.HALFTURN = (\{.*\});", first)[1])


@pytest.mark.parametrize("url", KEPT)
def test_what_a_phone_keeps_is_anonymous(phone, browser, url):
    answer = phone.browser.get(url)
    assert answer.status_code == 200
    assert "Set-Cookie" not in answer.headers
    assert "Cookie" not in answer.headers.get("Vary", "")
    assert answer.headers["Cache-Control"] == "no-cache"
    assert answer.data == browser.get(url).data


@pytest.mark.parametrize("url", OUTSIDE)
def test_pages_outside_the_app_are_kept_by_no_cache(browser, url):
    answer = browser.get(url)
    assert (answer.status_code, answer.headers["Cache-Control"]) == (200, "no-store")
    assert "Set-Cookie" not in answer.headers


@pytest.mark.parametrize("url", [*OUTSIDE, "/app/en/", "/nowhere"])
def test_an_icon_made_on_any_page_opens_the_app(browser, url):
    page = browser.get(url).text
    manifest = browser.get(re.search(r'rel="manifest" href="([^"]+)"', page)[1]).json
    assert (manifest["start_url"], manifest["id"], manifest["display"]) == ("/app/en/", "/app/", "standalone")
    assert manifest["start_url"].startswith(manifest["scope"])
    assert browser.get(manifest["start_url"]).status_code == 200
    icon = browser.get(re.search(r'rel="apple-touch-icon" href="([^"]+)"', page)[1])
    assert (icon.status_code, icon.mimetype) == (200, "image/png")


FONTS = [f"overpass_{part}_{weight}.woff2" for part in ("latin", "latin_ext") for weight in (400, 700)]


def test_the_worker_is_a_script_at_a_fixed_address_with_its_own_line_in_front(browser):
    answer = browser.get("/app/service_worker.js")
    assert answer.mimetype == "text/javascript"
    assert answer.text.partition("\n")[2] == (packed_dir() / "service_worker.js").read_text(encoding="utf-8")


def test_everything_the_worker_keeps_is_served_with_the_bytes_it_was_told_of(browser, worker_line):
    assert {entry["url"].rpartition("/")[2] for entry in worker_line["precache"]} == {
        "", "later.html", "manifest.webmanifest", "main.js", "phone.css", "halfturn.svg", *FONTS,
    }  # fmt: skip
    for entry in worker_line["precache"]:
        answer = browser.get(entry["url"])
        assert answer.status_code == 200, entry["url"]
        assert hashlib.sha256(answer.data).hexdigest() == entry["sha256"], entry["url"]


def test_everything_the_shell_asks_for_is_kept_but_the_icon_for_a_home_screen(browser, worker_line):
    kept = {entry["url"] for entry in worker_line["precache"]}
    shell = browser.get("/app/en/").text
    addresses = set(re.findall(r'<(?:link|script|img)\b[^>]*(?:src|href)="(/[^"]+)"', shell))
    assert len(addresses) == 7
    assert [url.rpartition("/")[2] for url in addresses - kept] == ["apple-180.png"]


def test_a_page_has_one_sheet_and_one_script_at_most_and_a_script_imports_nothing(browser):
    for url in ["/app/en/", *OUTSIDE, "/practice/sign-in"]:
        page = browser.get(url).text
        scripts = re.findall(r'<script\b[^>]*src="(/[^"]+)"', page)
        assert len(re.findall(r'rel="stylesheet"', page)) == 1, url
        assert len(scripts) <= 1, url
        assert not any(re.search(r"\bimport\b", browser.get(script).text) for script in scripts), url


def test_the_manifest_names_icons_of_the_sizes_they_have(browser):
    icons = browser.get("/app/en/manifest.webmanifest").json["icons"]
    assert {("192x192", "any"), ("512x512", "any"), ("512x512", "maskable")} <= {
        (icon["sizes"], icon["purpose"]) for icon in icons
    }


def test_an_asset_never_changes_under_its_address(browser, app):
    url = app.jinja_env.globals["asset"]("css/phone.css")
    answer = browser.get(url)
    assert answer.headers["Cache-Control"] == "public, max-age=31536000, immutable"
    assert answer.mimetype == "text/css"
    assert hashlib.sha256(answer.data).hexdigest().startswith(url.split("/")[2])
    assert browser.get(url, headers={"If-None-Match": answer.headers["ETag"]}).status_code == 304


@pytest.mark.parametrize(
    "path", ["0123456789abcdef/css/phone.css", "MARK/css/no.css", "MARK/../app.py", "MARK/", "MARK/js/main.js"]
)
def test_an_asset_that_is_not_there_is_404_and_no_page_in_its_place(browser, app, path):
    mark = app.jinja_env.globals["asset"]("css/phone.css").split("/")[2]
    answer = browser.get(f"/assets/{path.replace('MARK', mark)}")
    assert answer.status_code == 404


def test_a_template_that_asks_for_a_missing_asset_is_told_its_name(app):
    with pytest.raises(LookupError, match=r"pwa_assets/css/nothing\.css"):
        app.jinja_env.globals["asset"]("css/nothing.css")


def test_one_changed_byte_makes_another_build_and_moves_no_other_file(tmp_path):
    for name in ("one.js", "other.js"):
        (tmp_path / name).write_text("1")
    before = read_assets(tmp_path)
    (tmp_path / "one.js").write_text("2")
    after = read_assets(tmp_path)
    assert before.build != after.build
    assert before.url("one.js") != after.url("one.js")
    assert before.url("other.js") == after.url("other.js")


def test_a_language_that_is_not_served_has_no_manifest(browser):
    assert browser.get("/app/xx/manifest.webmanifest").status_code == 404


def test_the_app_leads_to_the_shell_of_the_browsers_language(browser):
    answer = browser.get("/app/", headers={"Accept-Language": "pt, en;q=0.5"})
    assert (answer.status_code, answer.headers["Location"]) == (302, "/app/en/")


def test_the_join_page_never_sees_the_token(browser):
    """It is in the fragment; the page has a button, and only the button redeems."""
    page = browser.get("/join").text
    assert "data-join" in page
    assert "<form" in page
    assert 'action="' not in page


def test_installing_is_offered_in_the_app_and_not_before(browser):
    assert "home screen" not in re.sub(r"“[^”]*”", "", browser.get("/join").text.lower())
    assert 'data-screen="home"' in browser.get(later_of(browser)).text


def later_of(browser):
    return re.search(r'data-later="(/[^"]+)"', browser.get("/app/en/").text)[1]


def test_each_template_is_sent_once_with_the_day_page_or_after_it(browser):
    named = r'<template (data-[a-z]+="[^"]+"(?: data-category="[^"]+")?)'
    first = re.findall(named, browser.get("/app/en/").text)
    later = re.findall(named, browser.get(later_of(browser)).text)
    assert [name for name, often in Counter(first + later).items() if often > 1] == []
    assert 'data-screen="day"' in first
    assert {'data-screen="session"', 'data-screen="sharp"', 'data-screen="warnings"'} <= set(later)


def test_the_later_templates_never_change_under_their_address(browser):
    answer = browser.get(later_of(browser))
    assert answer.headers["Cache-Control"] == "public, max-age=31536000, immutable"
    assert hashlib.sha256(answer.data).hexdigest().startswith(later_of(browser).split("/")[2])


def test_the_manifest_shows_screens_of_the_size_that_it_says(browser):
    shown = browser.get("/app/en/manifest.webmanifest").json["screenshots"]
    assert [each["label"] for each in shown] == [
        "What today asks, on one page",
        "A set of a session: how often, how far, how fast",
    ]
    for each in shown:
        png = browser.get(each["src"]).data
        assert each["sizes"] == "x".join(str(int.from_bytes(png[at : at + 4], "big")) for at in (16, 20))


def test_the_intake_gets_the_highest_usual_pain_from_the_core(app):
    browser = app.test_client()
    shell = browser.get("/app/en/").text
    sent = shell + browser.get(re.search(r'data-later="(/[^"]+)"', shell)[1]).text
    most = BOUNDS["usual"].high
    assert f'data-high="{most}"' in sent
    assert f"Above {most}:" in sent

"""The demo practice has a client for each finding of the review and for each group, also before three in the morning."""

import os
import re
import subprocess
import sys
from datetime import UTC, date, datetime, timedelta
from hashlib import sha256
from http.client import OK

import pytest

from tests.practice.visitor import Visitor
from tests.rules.tree import ROOT
from webapp.app import create_app
from webapp.config import Settings
from webapp.dosing.review import FINDINGS
from webapp.practice.caseload.lines import caseload_of
from webapp.records import groups, hand_overs, practitioners
from webapp.records.database import open_records
from webapp.sync.caseload.causes import GROUPS, ORDER, PHONE
from webapp.sync.folding.returning import way_back

NOW = datetime(2026, 3, 9, 1, 30, tzinfo=UTC)
"""Half past one in the morning: by the calendar of the clients it is still the day before."""


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """The records of the demo, filled at this instant, and what the caseload shows at it."""
    path = tmp_path_factory.mktemp("demo") / "halfturn.db"
    environ = {**os.environ, "HALFTURN_DB": str(path), "HALFTURN_LOCALES": "en,es"}
    command = [sys.executable, ROOT / "demo/practice.py", NOW.isoformat()]
    subprocess.run(command, check=True, env=environ, capture_output=True, cwd=ROOT)
    db = open_records(path)
    yield db, caseload_of(db, 1, NOW).lines, path
    db.conn.close()


@pytest.fixture(scope="module")
def orla(demo):
    """The demo's practitioner, signed in."""
    app = create_app(Settings(db=demo[2]), lambda: NOW)
    visitor = Visitor(app.test_client())
    practitioners.begin_sign_in(demo[0], 1, sha256(b"orla").hexdigest(), NOW, NOW)
    visitor.client.set_cookie("halfturn_practice", "orla", domain="127.0.0.1")
    return visitor


def test_each_finding_of_the_review_has_a_client(demo):
    found = {cause.kind for line in demo[1] for cause in line.causes}
    assert {watch.id for watch in FINDINGS} - found == set()
    # A phone waits to be confirmed only after the records went back to a copy.
    assert set(ORDER) - found == {PHONE}


def test_each_group_has_a_client_and_one_of_them_is_marked_as_seen(demo):
    assert {line.group for line in demo[1]} == set(GROUPS)
    assert [line.case.name for line in demo[1] if line.seen] == ["Rosalie Hain"]


def test_some_have_twelve_weeks_behind_them_and_two_have_one_name(demo):
    assert any((line.day or 0) > 7 * 12 for line in demo[1])
    assert sum(line.has_twin for line in demo[1]) == 2


def test_the_next_step_of_each_client_leads_to_a_place_that_is_there(demo, orla):
    """Each of these clients, so each kind of step: a page that answers, and on it the anchor."""
    pages = [orla.open(f"/practice?group={group}").text for group in ("needs", "look", "new")]
    steps = [step for page in pages for step in re.findall(r'class="button" href="([^"]+)"', page)]
    assert len(steps) == sum(line.group not in ("way", "finished") for line in demo[1])
    lost = []
    for address, _, anchor in (step.partition("#") for step in steps):
        answer = orla.open(address)
        if answer.status_code != OK or (anchor and f'id="{anchor}"' not in answer.text):
            lost.append(f"{address}#{anchor}")
    assert not lost


def test_a_colleague_has_a_caseload_and_a_group_has_joiners_in_trouble_and_joiners_who_wait(demo, orla):
    of_group = groups.of_practitioner(demo[0], 1)[0]
    page = orla.open(f"/practice/groups/{of_group.public_id}").text
    counts = {name: int(count) for name, count in re.findall(r"<dt>([^<]+)</dt><dd>(\d+)</dd>", page)}
    assert all(counts[state] for state in ("training", "silent", "still answering", "waiting for you", "held"))
    assert counts["sore this morning"] > 0
    assert len(re.findall(r"<h3>", page.partition('id="part-trouble"')[2])) > 1
    matis = practitioners.with_password(demo[0], "matis@venn.example")[0]
    lines = caseload_of(demo[0], matis.id, NOW).lines
    assert {"needs", "way"} <= {line.group for line in lines}
    handed = hand_overs.unseen_of(demo[0], matis.id)
    assert [groups.is_member(demo[0], of_group.id, line.case.id) for line in lines].count(True) == len(handed) == 1


def test_one_way_back_goes_well_and_one_was_stopped(demo):
    lines = {line.case.public_id: line for line in demo[1]}
    well, stopped = (
        way_back(demo[0], lines[id_].case.id, lines[id_].today) for id_ in ("leontine-bask", "rurik-aland")
    )
    assert (well.state.step, well.state.go.mode) == (2, "open")
    assert stopped.state.go.mode == "stopped"


def test_it_ends_at_the_instant_and_nothing_of_it_lies_later(demo):
    assert {line.today for line in demo[1]} == {date(2026, 3, 8)}
    later = (NOW + timedelta(seconds=1)).isoformat()
    assert demo[0].execute("SELECT COUNT(*) FROM devices WHERE last_sync_at > ?", [later]).fetchone()[0] == 0

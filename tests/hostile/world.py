"""A site where every page has content; after each request that writes, the site is restored."""

from dataclasses import dataclass, field
from datetime import timedelta
from typing import Any

from flask.testing import FlaskClient
from sqlite_utils import Database
from werkzeug.test import TestResponse

from tests import builders
from tests.cast import BOOKBINDER, FIRST_DAY
from tests.hostile.forms import Form, address, forms_of, rules_of
from tests.hostile.texts import urlencoded
from tests.own_movements import OVER_A_ROLL
from tests.practice.conftest import Site, hold_cellist
from tests.practice.visitor import HEADERS
from webapp.events.returning import OPENED
from webapp.library.routine import starter
from webapp.practice.caseload.lines import line_of_case
from webapp.records import (
    archivings,
    cases,
    groups,
    invitations,
    members,
    movements,
    offered_routines,
    owners,
    practices,
    practitioners,
    private_notes,
    recovery,
    seen,
)
from webapp.records.cases import Case
from webapp.records.database import write
from webapp.sync.case.handing_over import hand_over
from webapp.sync.case.told_intake import TOLD_LATER
from webapp.sync.log import practice_events

HOST = "127.0.0.1"
# Tables that are computed from the log and may be computed again at any time.
DERIVED = {"folded", "bundles"}
FORM_TYPE = "application/x-www-form-urlencoded"


@dataclass(frozen=True)
class Sent:
    """A form of a page, and the address that it is sent to."""

    path: str
    form: Form


@dataclass
class World:
    """The site, a browser that is signed in, the values for the variables in paths, and a copy of the first records."""

    site: Site
    browser: FlaskClient
    named: dict[str, list[str]]
    cookies: dict[str, str] = field(default_factory=dict)
    kept: Database = field(default_factory=lambda: Database(memory=True))
    requests_sent: int = 0

    @property
    def records(self) -> Database:
        """The database connection that the program itself uses."""
        return self.site.app.extensions["halfturn"].db()

    def keep(self) -> None:
        """Copy the present records and cookies."""
        self.records.conn.backup(self.kept.conn)
        self.cookies = {cookie.key: cookie.value for cookie in self.browser._cookies.values()}

    def content(self) -> dict[str, Any]:
        """Return all rows of the records, except the tables that are computed."""
        tables = [name for name in self.records.table_names() if name not in DERIVED]
        return {name: self.records.execute(f"SELECT * FROM {name}").fetchall() for name in tables}

    def put_back(self) -> None:
        """Restore the records and cookies from the copy."""
        self.kept.conn.backup(self.records.conn)
        for name, value in self.cookies.items():
            self.browser.set_cookie(name, value, domain=HOST)

    def ask(self, path: str, method: str = "GET", body: bytes = b"", kind: str = FORM_TYPE) -> TestResponse:
        """Send a request without any change, with the headers of a request from our own page."""
        headers = HEADERS if method == "GET" else {**HEADERS, "Content-Type": kind}
        self.requests_sent += 1
        # Each request comes from another network, so that the limits on guessing never refuse it.
        environ = {
            "REMOTE_ADDR": f"10.{self.requests_sent >> 16}.{self.requests_sent >> 8 & 255}.{self.requests_sent & 255}"
        }
        return self.browser.open(path, method=method, headers=headers, data=body or None, environ_base=environ)

    def pages(self) -> list[str]:
        """Return the address of every page, with values that exist."""
        return [path for rule in rules_of(self.site.app, "GET") for path in self.paths(rule)]

    def paths(self, rule: Any) -> list[str]:
        """Return the addresses of a rule, one for each combination of values that exist."""
        ways: list[dict[str, str]] = [{}]
        for name in sorted(rule.arguments):
            assert name in self.named, f"{rule.rule} names {name}: give it values in tests/hostile/world.py"
            ways = [{**way, name: value} for way in ways for value in self.named[name]]
        return [address(rule, way) for way in ways]

    def forms(self) -> list[Sent]:
        """Return every form of every page, and of the pages that come after sending such a form unchanged."""
        found: dict[tuple[str, frozenset[str]], Sent] = {}
        for path in self.pages():
            self._add_forms(found, path, self.ask(path))
        for sent in list(found.values()):
            if sent.form.method == "post":
                self._add_forms(found, sent.path, self.ask(sent.path, "POST", urlencoded(list(sent.form.entries))))
                self.put_back()
        return list(found.values())

    def _add_forms(self, found: dict[tuple[str, frozenset[str]], Sent], path: str, answer: TestResponse) -> None:
        if answer.mimetype == "text/html":
            for form in forms_of(answer.text):
                sent = Sent(form.action or path.partition("?")[0], form)
                found.setdefault((sent.path, form.names), sent)


def furnish(site: Site) -> World:
    """Prepare Hedda's site: an offer, a start and a letter of the founder, a hold of the cellist, a phone to confirm, an invitation."""
    reports: list[tuple[int | None, int | None]] = [(4, 1)] * 14
    hold_cellist(site)
    ticked = builders.screened(FIRST_DAY, "heart", seq=800)
    letter = builders.event("letter_written", FIRST_DAY, {"text": "Is this a letter?"}, seq=990)
    site.begin(site.founder, [ticked, *builders.days_of(FIRST_DAY, reports), letter])
    runa = cases.add(site.db, site.hedda.id, "runa000001", "Runa", "en", TOLD_LATER, site.clock())
    on_paper = _client_on_paper(site)
    site.clock.pass_by(days=7)
    link = invitations.make_link(site.db, site.founder.id, site.clock())
    opened = invitations.open_of(site.db, site.founder.id, site.clock())[0]
    phone = site.join_phone(site.founder)
    private_notes.add(site.db, site.founder.id, "A private note.", site.hedda.id, "a key", site.clock())
    with write(site.db):
        site.db.execute("UPDATE devices SET to_confirm = 1 WHERE id = ?", (phone,))
    made = groups.NewGroup(site.hedda.id, "Tuesday", "en", starter("wrist"), 30, site.clock() + timedelta(days=9), "")
    staff = _colleagues(site, runa)
    _mark_and_open_a_way(site, runa)
    offered_routines.offer(site.db, site.hedda.id, starter("wrist"), site.clock())
    named = {
        "group_id": [groups.make(site.db, made, "key", site.clock())],
        "movement_id": [movements.make(site.db, site.hedda.practice, OVER_A_ROLL, site.hedda.id, "key", site.clock())],
        "public_id": [site.founder.public_id, site.cellist.public_id, runa.public_id, on_paper.public_id],
        "device": [phone],
        "version": ["1"],
        "invitation": [str(opened.id)],
        "act": ["ease", "start_over"],
        "note": [str(private_notes.of_client(site.db, site.founder.id)[0].id)],
        "locale": ["en"],
        "mark": ["b"],
        "path": ["css/phone.css"],
        "key": ["b"],
        **staff,
    }
    assert link.token
    return World(site, site.app.test_client(), named)


def _client_on_paper(site: Site) -> builders.Enrolled:
    """A client without a phone, whose routine differs from the founder's, so that the founder's can be pushed to them too."""
    enrolled = builders.enrol(site.db, site.hedda.id, BOOKBINDER)
    with write(site.db):
        site.db.execute(
            "UPDATE routine_versions SET routine = json_set(routine, '$.tempo', json('{\"rest_seconds\": 40}')) WHERE client = ?",
            (enrolled.id,),
        )
    return enrolled


def _colleagues(site: Site, handed: Case) -> dict[str, list[str]]:
    """A colleague with a client, who handed another one to Hedda, one with none, and a second owner; the values that name them."""
    practice, now = site.hedda.practice, site.clock()
    member = members.add(site.db, practice, "Signe", "signe@marrow.example", now)
    builders.let_in(site.db, member, now, "no real hash")
    idle = members.add(site.db, practice, "Ture", "ture@marrow.example", now)
    partner = members.add(site.db, practice, "Una", "una@marrow.example", now)
    builders.let_in(site.db, partner, now)
    owners.set_role(site.db, practice, partner, practices.OWNER)
    cases.add(site.db, member, "otti000001", "Otti", "en", TOLD_LATER, now)
    signe = practitioners.find(site.db, member)
    for before, to in ((site.hedda, signe), (signe, site.hedda)):
        hand_over(site.db, handed.id, before, to, before, "I am away.", now=now)
    with write(site.db):
        recovery.note(site.db, site.hedda.id, recovery.SET_BY_SERVER, now, is_seen=False)
    return {
        "colleague": [str(member), str(idle), str(partner)],
        "token": [members.make_link(site.db, member, now).token],
    }


def _mark_and_open_a_way(site: Site, marked: Case) -> None:
    """A client who is marked as seen and in the archive, and the founder on a way back."""
    way = {"ladder": "hard_grip", "step": 1, "gate": ["mornings"], "reason": "Calm.", "by": "Hedda Marrow"}
    with write(site.db):
        practice_events.put(site.db, site.founder.id, OPENED, FIRST_DAY, way, site.clock())
        archivings.put(site.db, marked.id, is_archived=True, reason="Away.", by=site.hedda.id, now=site.clock())
    line = line_of_case(site.db, site.hedda.id, marked, site.clock())
    mark = seen.Seen("2026-03-30", "", tuple(cause.stamp for cause in line.causes), "Hedda Marrow")
    seen.mark(site.db, marked.id, mark, site.clock())


def spoilt(entries: list[tuple[str, str]], name: str, text: str, way: str) -> list[tuple[str, str]]:
    """Return the entries of a form with one field absent, doubled, or with another text."""
    others = [entry for entry in entries if entry[0] != name]
    if way == "absent":
        return others
    own = [entry for entry in entries if entry[0] == name]
    return [*own, (name, text), *others] if way == "doubled" else [*others, (name, text)]

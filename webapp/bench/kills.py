"""`halfturn trial kills`: kills the server at random instants, and checks that nothing is lost, doubled or revived."""

import tempfile
import threading
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from typing import Any

from webapp.bench.kills_phone import NoAnswerError, Phone, ask
from webapp.bench.kills_server import KilledServer
from webapp.bench.served import AREA, SETTINGS
from webapp.library.routine import starter
from webapp.records import acts, cases, devices, events, invitations, practitioners, routines
from webapp.records.database import Database, open_records
from webapp.sync.caseload import checks

CLIENTS = ("trial00001", "trial00002")
PHONES_EACH = 2
MOST_ANSWERS = 24
LONGEST_LIFE_S = 30
LONGEST_MOMENT_S = 0.05
MOST_WRITTEN = 4
COPY_EVERY, RESTORE_EVERY, LOSE_ACTS_EVERY = 5, 10, 30
GOOD, TO_CONFIRM = 200, 503
MUST_BE_NONE = ("lost", "doubled", "revived", "versions_twice", "troubles")
# The most rounds at the end in which the phones send the rest of their entries.
MOST_SETTLING = 2000


class Trial:
    """One run of the trial, with one database."""

    def __init__(self, folder: Path, seed: int, *, is_old_sqlite: bool) -> None:
        self.rng, self.counts = Random(seed), Counter[str]()  # noqa: S311 - a trial that can be run again
        self.server = KilledServer(folder, is_old_sqlite=is_old_sqlite)
        self.server.run("migrate")
        self.clients, self.practitioner = self._enrol()
        self.phones: list[Phone] = []
        self.left: list[Phone] = []
        self.used: list[str] = []
        self.versions: list[tuple[str, int]] = []
        self.copy: Path | None = None

    @contextmanager
    def _records(self) -> Iterator[Database]:
        db = open_records(self.server.path)
        try:
            yield db
        finally:
            db.close()

    def _enrol(self) -> tuple[dict[str, int], int]:
        now, found = datetime.now(UTC), {}
        with self._records() as db:
            owner = practitioners.add(db, "Trial", "trial@halfturn.example", "-", now)
            for public_id in CLIENTS:
                intake = {**SETTINGS, "area": AREA, "note": ""}
                found[public_id] = cases.add(db, owner.id, public_id, "Trial", "en", intake, now).id
        return found, owner.id

    def _link(self, client: str) -> str:
        with self._records() as db:
            return invitations.make_link(db, self.clients[client], datetime.now(UTC)).token

    def begin(self) -> None:
        """Join the phones whose entries are counted, and make the first copy."""
        self._push()
        links = [(client, self._link(client)) for client in CLIENTS for _ in range(PHONES_EACH)]
        self.server.start()
        for client, link in links:
            phone = Phone(client, Random(self.rng.random()))  # noqa: S311 - as above
            assert phone.join(self.server.origin, link), "a new link opens"
            self.phones.append(phone)
            self.used.append(link)
        self._copy()
        self.server.kill()

    def round(self, number: int) -> None:
        """Serve, let every phone write, and kill the server; in some rounds make a copy, or restore it."""
        client = self.rng.choice(CLIENTS)
        visitor = (client, self._link(client))
        self.server.start()
        threads = [threading.Thread(target=self._busy, args=(phone,)) for phone in self.phones]
        threads.append(threading.Thread(target=self._come_and_go, args=visitor))
        for thread in threads:
            thread.start()
        if number % COPY_EVERY == 0:
            self._copy()
        self._wait_for_answers(self.rng.randint(0, MOST_ANSWERS))
        self.server.kill()
        self.counts["kills"] += 1
        for thread in threads:
            thread.join()
        if number % RESTORE_EVERY == 0:
            self._restore(has_lost_acts=number % LOSE_ACTS_EVERY == 0)

    def _wait_for_answers(self, most: int) -> None:
        """Wait for `most` answers, then for a random moment.

        Answers are counted, and not seconds, so that a slow machine gets as far as a fast one before the kill.
        """
        until, wanted = time.monotonic() + LONGEST_LIFE_S, self.answers + most
        while self.answers < wanted and time.monotonic() < until:
            time.sleep(LONGEST_MOMENT_S / 10)
        time.sleep(self.rng.uniform(0, LONGEST_MOMENT_S))

    @property
    def answers(self) -> int:
        """How many answers the phones have got."""
        return sum(count for name, count in self.counts.items() if name.startswith("answer_"))

    def _busy(self, phone: Phone) -> None:
        with suppress(NoAnswerError):
            while True:
                phone.write(phone.rng.randint(1, MOST_WRITTEN))
                self.counts[f"answer_{phone.sync(self.server.origin)}"] += 1

    def _come_and_go(self, client: str, link: str) -> None:
        phone = Phone(client, Random())  # noqa: S311 - it writes nothing
        with suppress(NoAnswerError):
            if phone.join(self.server.origin, link):
                self.used.append(link)
                if phone.leave(self.server.origin):
                    self.left.append(phone)
            self.counts["answer_to_a_visitor"] += 1

    def _copy(self) -> None:
        self.server.run("backup", "--keep", "3")
        self.copy = max(self.server.folder.glob("*.copy"))
        self.counts["copies"] += 1

    def _push(self) -> None:
        with self._records() as db:
            for client, row in self.clients.items():
                pushed = routines.push(db, row, starter(AREA), SETTINGS, "", self.practitioner, datetime.now(UTC))
                self.versions.append((client, pushed.version))

    def _restore(self, *, has_lost_acts: bool) -> None:
        self._push()
        if has_lost_acts:
            acts.beside(self.server.path).unlink()
        self.server.run("restore", str(self.copy))
        self.counts["restores"] += 1
        self._push()
        self.server.start()
        self._look_for_the_revived()
        if has_lost_acts:
            self._confirm()
        self.server.kill()

    def _look_for_the_revived(self) -> None:
        origin = self.server.origin
        self.counts["phones_revived"] += sum(ask(origin, "/api/me", None, each.cookie)[0] == GOOD for each in self.left)
        self.counts["links_revived"] += sum(Phone(CLIENTS[0], self.rng).join(origin, link) for link in self.used)

    def _confirm(self) -> None:
        """Do what a practitioner does after the acts were lost: confirm the known phones, revoke all others."""
        for phone in self.phones:
            self.counts["waited_to_be_confirmed"] += phone.sync(self.server.origin) == TO_CONFIRM
        known = {phone.device for phone in self.phones}
        with self._records() as db:
            for client in self.clients.values():
                for each in devices.of_client(db, client):
                    if each.id in known:
                        devices.confirm(db, client, each.id)
                    elif each.to_confirm:
                        devices.revoke(db, client, each.id, datetime.now(UTC))

    def end(self) -> None:
        """Let every phone send all its entries, then look again for phones and links that were revived."""
        self.counts["acknowledged_between_kills"] = sum(len(phone.acknowledged) for phone in self.phones)
        self.server.start()
        for _ in range(MOST_SETTLING):
            for phone in self.phones:
                phone.sync(self.server.origin)
            if not any(phone.waiting for phone in self.phones):
                break
        self._look_for_the_revived()
        self.server.kill()

    def counted(self) -> dict[str, Any]:
        """Return the counts: the acknowledged entries are compared with the log."""
        with self._records() as db:
            logged = [each.id for row in self.clients.values() for each in events.of_client(db, row)]
            troubles = len(checks.troubles(db))
        made = [event_id for phone in self.phones for event_id in phone.made]
        acknowledged = {event_id for phone in self.phones for event_id in phone.acknowledged}
        return {
            **dict(sorted(self.counts.items())),
            "starts": self.server.starts,
            "entries_made": len(made),
            "entries_acknowledged": len(acknowledged),
            "entries_in_the_log": len(logged),
            "phones_left": len(self.left),
            "links_used": len(self.used),
            "versions_pushed": len(self.versions),
            "lost": len(acknowledged - set(logged)),
            "doubled": len(logged) - len(set(logged)) + len(set(logged) - set(made)),
            "revived": self.counts["phones_revived"] + self.counts["links_revived"],
            "versions_twice": len(self.versions) - len(set(self.versions)),
            "troubles": troubles,
        }


def trial_kills(rounds: int, seed: int, *, is_old_sqlite: bool = False) -> dict[str, Any]:
    """Run the trial.

    Args:
        rounds: How often the server is started and killed.
        seed: Decides what is written and how long each server runs; it does not decide what happens at the same time.
        is_old_sqlite: Whether the server must use Python's own SQLite instead of pysqlite3.

    Returns:
        Counts; `lost`, `doubled`, `revived`, `versions_twice` and `troubles` must be 0.
    """
    began = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        trial = Trial(Path(folder), seed, is_old_sqlite=is_old_sqlite)
        try:
            trial.begin()
            for number in range(1, rounds + 1):
                trial.round(number)
            trial.end()
        finally:
            trial.server.kill()
        counts = {"seed": seed, "rounds": rounds, "sqlite": trial.server.sqlite(), **trial.counted()}
    return {**counts, "seconds": round(time.monotonic() - began)}

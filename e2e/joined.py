"""Phones that have joined: each kind of client joins once in a run, and the stories begin from what phone and records held then."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from tempfile import mkdtemp

from playwright.sync_api import Browser, Cookie

from e2e.phone import SHELL, Phone
from e2e.phone_reading import STORE
from e2e.practice import Practice
from e2e.server import Server
from e2e.sizes import phone_options
from tests.builders import Enrolled, empty_records
from tests.cast import Sufferer
from webapp.records import acts
from webapp.records.database import open_records

# The rows of every table of the phone's database, with their keys where a row does not hold its own.
TAKE = """async () => {
  const [{ name }] = await indexedDB.databases();
  const done = (request) => new Promise((then, fail) => { request.onsuccess = () => then(request.result); request.onerror = fail; });
  const db = await done(indexedDB.open(name)), rows = {};
  for (const table of db.objectStoreNames) {
    const store = db.transaction(table).objectStore(table);
    const [values, keys] = await Promise.all([done(store.getAll()), done(store.getAllKeys())]);
    rows[table] = values.map((value, at) => (store.keyPath ? [value] : [value, keys[at]]));
  }
  db.close();
  return rows;
}"""
# Lays these rows into the database that the app's own store has made.
PUT = f"""async (rows) => {{ await ({STORE} await store.events(); }})();
  const [{{ name }}] = await indexedDB.databases();
  await new Promise((done, fail) => {{
    indexedDB.open(name).onsuccess = ({{ target: {{ result: db }} }}) => {{
      const tx = db.transaction(Object.keys(rows), 'readwrite');
      for (const [table, all] of Object.entries(rows)) for (const row of all) tx.objectStore(table).put(...row);
      tx.oncomplete = () => {{ db.close(); done(); }};
      tx.onabort = fail;
    }};
  }});
}}"""


@dataclass(frozen=True)
class Join:
    """What was there once a client's phone had joined.

    Attributes:
        client: As enrolled; the invitation is used.
        cookies: What the phone is known by.
        rows: What its database holds.
        records: The practice's database, with its acts beside it.
    """

    client: Enrolled
    cookies: list[Cookie]
    rows: dict[str, list]
    records: Path


class Joins:
    """Lets each kind of client join once, by the invitation's link, and puts later phones and records where that ended."""

    def __init__(self, browser: Browser, folder: Path, evening: datetime) -> None:
        self._browser, self._folder, self._evening = browser, folder, evening
        self._made: dict[str, Join] = {}
        self._empty = folder / "empty.db"
        empty_records(self._empty).conn.close()

    def put_nobody(self, path: Path) -> None:
        """Put an empty database there."""
        _copy(self._empty, path)

    def put(self, phone: Phone, practice: Practice, client: Sufferer) -> Enrolled:
        """Put the records of a practice and the storage of a phone where they were when this client had joined."""
        join = self._made.get(repr(client)) or self._join(client)
        practice.server.kill()
        _copy(join.records, practice.server.db_path)
        practice.server.start()
        phone.context.add_cookies(join.cookies)
        # The front page has no script: nothing of the app runs while its rows are laid down.
        phone.page.goto("/", wait_until="commit")
        phone.page.evaluate(PUT, join.rows)
        phone.page.goto(SHELL)
        phone.wait_until_kept()
        return join.client

    def _join(self, client: Sufferer) -> Join:
        # A folder for each try: where one failed, the next story's try must not stumble over it.
        server = Server(Path(mkdtemp(dir=self._folder)))
        self.put_nobody(server.db_path)
        server.start()
        context = self._browser.new_context(**phone_options(), base_url=server.origin)
        try:
            enrolled = Practice.opened(server).enrol(client)
            phone = Phone.switched_on(context, self._evening)
            phone.join_by_link(enrolled.token)
            phone.send()
            cookies, rows = context.cookies(), phone.page.evaluate(TAKE)
        finally:
            context.close()
            server.kill()
        join = self._made[repr(client)] = Join(enrolled, cookies, rows, server.db_path)
        return join


def _copy(records: Path, to: Path) -> None:
    """Copy a database that no server serves, with its acts."""
    for left in to.parent.glob(f"{to.name}-*"):
        left.unlink()
    to.unlink(missing_ok=True)
    db = open_records(records)
    db.execute("VACUUM INTO ?", [str(to)])
    db.conn.close()
    if acts.beside(records).exists():
        shutil.copyfile(acts.beside(records), acts.beside(to))

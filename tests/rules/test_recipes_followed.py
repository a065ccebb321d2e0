"""Some recipes of DEVELOPERS.md, followed in a copy of the project: a proof that fails in the copy as it is then passes."""

import os
import shutil
import subprocess
import sys
from dataclasses import dataclass

import pytest

from tests.rules.test_recipes import RECIPES
from tests.rules.tree import ROOT, file_name, project_files

pytestmark = pytest.mark.long

RUN_SECONDS = 300
PYTEST = ("-m", "pytest", "-q", "-p", "no:cacheprovider")


@dataclass(frozen=True)
class Example:
    """One recipe done.

    Attributes:
        files: New files: the text by the path.
        lines: What is put in, by (path, the text before which it is put). That text stands in the file once, or is AT_THE_END.
        commands: Modules to run afterwards.
        proof: Arguments of Python. It fails before the change and passes after it.
        demands: Tests that must pass after the change.
    """

    files: dict[str, str]
    lines: dict[tuple[str, str], str]
    proof: tuple[str, ...]
    commands: tuple[str, ...] = ()
    demands: tuple[str, ...] = ()


MOVEMENT = (ROOT / "content/movements/fingers.toml").read_text(encoding="utf-8")
CATALOGUE = r"""
msgid ""
msgstr ""
"Content-Type: text/plain; charset=UTF-8\n"
"Language: pt_BR\n"
"Plural-Forms: nplurals=2; plural=(n > 1);\n"

msgid "Start"
msgstr "Começar"
"""
SAYS_START = """
from webapp.config import read_settings
from webapp.words import words_for
first, second = read_settings({"HALFTURN_LOCALES": "en,pt-BR"}).locales
assert (words_for(first).say("Start"), words_for(second).say("Start")) == ("Start", "Começar")
from pathlib import Path
from babel.messages.pofile import read_po
sizes = {len(read_po(path.open("rb"))) for path in Path("content/locale").glob("*.po*")}
assert len(sizes) == 1, sizes
"""
LOOK = '''

def two_idle(course: ArmCourse, limit: int) -> Finding | None:
    """Find an arm that paused for just this many days."""
    run = tail(course.days, lambda day: day.response == "missed")
    return found("two-idle", [(day.on, 0) for day in run]) if len(run) == limit else None

'''
CHECK = """def _names(db: Database) -> Iterator[Trouble]:
    for row in db.execute("SELECT id FROM clients WHERE name = ''"):
        yield Trouble("names", {"client": row[0]})


"""
FAULT_TO_FIND = """def test_a_client_without_a_name_is_told(run, db_path, ansgar):
    _change(db_path, "UPDATE clients SET name = ''")
    assert run("check") == (1, "Client 1 has no name.\\n")


"""
KITE_STRUCTS = '''class KiteBody(Struct, kw_only=True):
    """A kite and its height."""

    metres: int


class KiteFlown(Entry, tag="kite_flown", kw_only=True):
    """A kite was flown."""

    body: KiteBody


'''
KITE_CHECK = """def _kite_flown(body: dict[str, Any]) -> None:
    values.whole(body.get("metres"), "body.metres", 1, 1000)


"""
MIGRATION = """

@migrations()
def towns(db: sqlite_utils.Database) -> None:
    db.execute("ALTER TABLE clients ADD COLUMN town TEXT NOT NULL DEFAULT ''")
"""
AT_THE_END = ""
# The first run makes the database with the tables of today; the second one migrates it.
HAS_A_TOWN = """
from pathlib import Path
from webapp.records.database import open_records
from webapp.records.making import make_records
path = Path("of_the_example.db").absolute()
make_records(path)
assert "town" in {row[1] for row in open_records(path).execute("PRAGMA table_info(clients)").fetchall()}
"""
EXAMPLES = {
    "a movement": Example(
        files={"content/movements/shake_loose.toml": MOVEMENT.replace("Open and close the fingers", "Shake loose")},
        lines={
            ("pwa_assets/js/pure/drawing/drawn_movements.js", "  palm_down: {"):
                '  shake_loose: { way: "circle", side: "thumb", roll: 0, up: 32, down: 32, frame: LIFTED },\n',
            ("tests/library/test_content.py", ")\nSTRETCHES = ("): ', "shake_loose"',
        },
        proof=(*PYTEST, "tests/library/test_content.py", "-k", "shake_loose"),
        demands=("tests/library/test_content.py",),
    ),
    "a language": Example(
        files={"content/locale/pt_BR.po": CATALOGUE},
        lines={},
        commands=("tests.words.collect",),
        proof=("-c", SAYS_START),
        demands=("tests/words/test_translations.py", "-k", "up_to_date or gaps or same_when"),
    ),
    "a finding": Example(
        files={},
        lines={
            ("webapp/dosing/review.py", '    Watch("peak",'):
                '    Watch("two-idle", "paused for this many days", alarms.two_idle, "own-choice", 2),\n',
            ("webapp/dosing/findings/alarms.py", "\ndef floor("): LOOK,
            ("webapp/words/findings.py", '    "peak": mark("With'): '    "two-idle": mark("No session for two days."),\n',
            ("webapp/words/findings.py", '    "peak": mark("Go'): '    "two-idle": mark("Ask how the arm is."),\n',
            ("tests/vectors/reviews.py", '    "nothing": ('): '    "two-idle": (plan_for(), [CALM, MISSED, MISSED]),\n',
        },
        commands=("tests.vectors.reviews",),
        proof=(*PYTEST, "tests/dosing/test_review.py", "tests/words/test_findings.py", "-k", "two-idle"),
        demands=("tests/dosing/test_review.py", "tests/words/test_findings.py"),
    ),
    "a setting": Example(
        files={},
        lines={
            ("webapp/config.py", "    proxies: int = 0\n"): "    cups: int = 0\n",
            ("webapp/config.py", "        proxies=_count("):
                '        cups=_count("HALFTURN_CUPS", environ.get("HALFTURN_CUPS") or "0"),\n',
            ("webapp/words/serving.py", '    "HALFTURN_LOCALES": SettingWords('):
                '    "HALFTURN_CUPS": SettingWords(mark("how many cups"), "0", "1"),\n',
            ("webapp/templates/recipes/systemd", 'Environment="HALFTURN_LOCALES'): 'Environment="HALFTURN_CUPS=$cups"\n',
            ("webapp/serving/recipes.py", '        "locales":'): '        "cups": str(settings.cups),\n',
        },
        proof=(*PYTEST, "tests/serving/test_recipes.py", "-k", "HALFTURN_CUPS"),
        demands=("tests/serving/test_recipes.py", "tests/client/test_config.py"),
    ),
    "a field of the bundle or the reply": Example(
        files={},
        lines={
            ("webapp/wire/sync.py", "    received_at: str\n"): "    kites: int\n",
            ("webapp/sync/phone/serve.py", "        received_at=instant(now),\n"): "        kites=3,\n",
            ("tests/client/test_sync.py", '        "anchors", "received_at",\n'): '        "kites",\n',
        },
        commands=("tests.vectors.wire",),
        proof=("-c", 'from webapp.wire.sync import Reply; assert "kites" in Reply.__struct_fields__'),
        demands=("tests/wire/test_wire.py", "tests/client/test_sync.py"),
    ),
    "a column": Example(
        files={},
        lines={("webapp/records/later_migrations.py", AT_THE_END): MIGRATION},
        proof=("-c", HAS_A_TOWN),
        demands=("tests/records/test_database.py",),
    ),
    "a check of the records": Example(
        files={},
        lines={
            ("webapp/sync/caseload/checks.py", "CHECKS: tuple["): CHECK,
            ("webapp/sync/caseload/checks.py", ")\n\n\ndef troubles("): ", _names",
            ("webapp/words/upkeep.py", '    "receipts": mark('): '    "names": mark("Client %(client)s has no name."),\n',
            ("tests/cli/test_upkeep.py", "def test_restore_tells_what_it_did"): FAULT_TO_FIND,
        },
        proof=(*PYTEST, "tests/cli/test_upkeep.py", "-k", "without_a_name"),
        demands=("tests/cli/test_upkeep.py",),
    ),
    "an event kind": Example(
        files={},
        lines={
            ("webapp/events/kinds.py", '    "note_read",\n'): '    "kite_flown",\n',
            ("webapp/events/codec.py", "def _note_read("): KITE_CHECK,
            ("webapp/events/codec.py", '    "note_read": _note_read'): '    "kite_flown": _kite_flown,\n',
            ("pwa_assets/js/pure/sync/entry_check.js", "  note_read:"): "  kite_flown: fields({ metres: whole(1, 1000) }),\n",
            ("webapp/wire/entries.py", "class NoteRead("): KITE_STRUCTS,
            ("webapp/wire/entries.py", "    | NoteRead"): "    | KiteFlown\n",
            ("tests/js/hostile_bodies.py", '    "note_read":'): '    "kite_flown": {"metres": 3},\n',
            ("webapp/templates/about/words.html", '<template data-word="kind.note_read">'):
                '<template data-word="kind.kite_flown">{{ _("Kite flown") }}</template>\n',
        },
        commands=("tests.vectors.wire",),
        proof=(*PYTEST, "tests/wire/test_wire.py", "tests/js/test_entry_check.py", "-k", "kite_flown"),
        demands=("tests/wire/test_wire.py", "tests/js/test_entry_check.py", "tests/events/test_codec.py"),
    ),
}  # fmt: skip


@pytest.fixture
def copy(tmp_path):
    """A copy of the project's files."""
    for path in project_files():
        goal = tmp_path / "copy" / file_name(path)
        goal.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(path, goal)
    return tmp_path / "copy"


def follow(example, root):
    """Do in a copy what an example says."""
    for name, text in example.files.items():
        (root / name).write_text(text, encoding="utf-8")
    for (name, before), line in example.lines.items():
        text = (root / name).read_text(encoding="utf-8")
        assert before == AT_THE_END or text.count(before) == 1, f"{name} must hold once: {before}"
        changed = text + line if before == AT_THE_END else text.replace(before, line + before)
        (root / name).write_text(changed, encoding="utf-8")
    for module in example.commands:
        assert run(root, "-m", module).returncode == 0


def run(root, *arguments):
    """Run this Python in a copy; what is drawn stays short."""
    environ = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1", "TESTS_AT_LENGTH": "0"}
    return subprocess.run(
        [sys.executable, *arguments],
        check=False, cwd=root, env=environ, capture_output=True, text=True, timeout=RUN_SECONDS,
    )  # fmt: skip


@pytest.mark.parametrize("added", EXAMPLES)
def test_a_recipe_that_is_followed_leads_to_what_it_promises(added, copy):
    assert added in RECIPES
    example = EXAMPLES[added]
    assert run(copy, *example.proof).returncode != 0, "the proof must fail before the change"
    follow(example, copy)
    for arguments in (example.proof, (*PYTEST, *example.demands)) if example.demands else (example.proof,):
        done = run(copy, *arguments)
        assert done.returncode == 0, done.stdout + done.stderr

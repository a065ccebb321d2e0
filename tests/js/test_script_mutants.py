"""Mutants of the scripts, one fault at a time. For each mutant a test of the scripts must fail, without a browser.

Each line names the script, the original text, the text that replaces it, and the test that must fail.
"""

import shutil
import subprocess
from pathlib import Path

import pytest

from tests.rules.tree import ROOT

RUN_SECONDS = 120
QUIET = "--disable-warning=MODULE_TYPELESS_PACKAGE_JSON"
MUTANTS = [
    # Of two releases of one day the lower one counts.
    ("pure/dose/daybook", "!other || rung < other.rung", "!other || rung > other.rung", "pure/dose/daybook"),
    ("pure/dose/daybook", "range < other.range", "range > other.range", "pure/dose/daybook"),
    ("pure/dose/daybook", "entry.on >= on", "entry.on > on", "pure/dose/daybook"),
    # The drawn arm, and how often it is drawn.
    ("pure/drawing/wrist", "turn(-bend)", "turn(bend)", "pure/drawing/scene"),
    ("pure/drawing/scene", 'leads: way === "lift"', "leads: true", "pure/drawing/scene"),
    ("pure/drawing/fan", "top < up", "top > up", "pure/drawing/fan"),
    ("drawing/ruler", 'time ? "inline" : "none"', '"inline"', "drawing/wrist_drawing"),
    ("pure/session/pacer", 'phase !== "rest" && ', "", "pure/session/pacer"),
    ("session/looking", "STILL_FOR_MS = 28", "STILL_FOR_MS = 8", "session/looking"),
    # How much goes out at once.
    ("pure/sync/batch", "MOST_EVENTS = 100", "MOST_EVENTS = 101", "pure/sync/batch"),
    ("pure/sync/batch", "MOST_CHARACTERS = 150_000", "MOST_CHARACTERS = 150_001", "pure/sync/batch"),
    ("pure/sync/batch", "characters > MOST_CHARACTERS", "characters >= MOST_CHARACTERS", "pure/sync/batch"),
    ("pure/sync/batch", "batch.length > 0 &&", "", "pure/sync/batch"),
    # What tomorrow can bring.
    ("pure/dose/outlook", "rating >= (facts.during ?? 0)", "rating > (facts.during ?? 0)", "pure/dose/outlook"),
    ("pure/dose/outlook", "rating >= (facts.during ?? 0)", "rating >= 0", "pure/dose/outlook"),
    ("pure/dose/outlook", 'index > 0 && done !== "none"', 'done !== "none"', "pure/dose/outlook"),
    ("pure/dose/outlook", "asks(dose) === unreported", "true", "pure/dose/outlook"),
    ("pure/dose/outlook", "asks(dose) === unreported", "false", "pure/dose/outlook"),
    ("dose/tomorrow", "if (low === 0)", "if (low <= 4)", "dose/tomorrow"),
    ("dose/tomorrow", "high === HIGHEST", "high > HIGHEST", "dose/tomorrow"),
    ("dose/tomorrow", "high - low === 1", "high - low === 2", "dose/tomorrow"),
    ("dose/tomorrow", 'branch.orNoReport ? "_no_report" : ""', '""', "dose/tomorrow"),
    ("dose/tomorrow", "&& branch.isBest", "", "dose/tomorrow"),
    ("dose/tomorrow", 'isHeld ? "do-ink" : "ease"', '"ease"', "dose/tomorrow"),
    ("dose/tomorrow", ".filter((day) => !day.isHeldNow)", "", "dose/tomorrow"),
    ("dose/tomorrow", "context.awaitsReport ||", "", "dose/tomorrow"),
    # Where an entry stands.
    ("edges/storage/journal", "if (known) return known.event;", "", "edges/storage/journal"),
    ("edges/storage/journal", "meta.put(event.seq + 1", "meta.put(event.seq", "edges/storage/journal"),
    ("edges/storage/journal", ' || result.status === "duplicate"', "", "edges/storage/journal"),
    ("edges/storage/journal", "else if (!result.again)", "else", "edges/storage/journal"),
    (
        "edges/storage/journal",
        'each.state === "sent" && isOurs(each)',
        'each.state === "sent"',
        "edges/storage/journal",
    ),
    ("edges/storage/journal", 'each.state === "sent" && isOurs(each)', "isOurs(each)", "edges/storage/journal"),
    (
        "edges/storage/journal",
        'newRow(event, "sent", "server"',
        'newRow(event, "waiting", "server"',
        "edges/storage/journal",
    ),
    (
        "edges/storage/journal",
        'state: "sent", refusal: null });\n    else {',
        "refusal: null });\n    else {",
        "edges/storage/journal",
    ),
    ("edges/storage/answers", "version !== received", "true", "edges/storage/journal"),
    ("edges/storage/answers", "reply.bundle_hash === (reply.bundle?.hash ?? held)", "true", "edges/storage/journal"),
    ("edges/storage/answers", 'put(0, "cursor")', 'put(1, "cursor")', "edges/storage/journal"),
    # Letters: one for each draft, none that is sent is taken back, none is read unseen.
    ("edges/storage/letter_box", "sent.event.body.text !== text", "false", "edges/storage/letter_box"),
    ("edges/storage/letter_box", 'row?.state === "sent" || ', "", "edges/storage/letter_box"),
    ("pure/letters/thread", "(seen.has(id) || !takenBack.has(id))", "!takenBack.has(id)", "edges/storage/letter_box"),
    ("letters/page", " && !wasNew.has(id)", "", "letters/page"),
    ("letters/writing", "clock.now() - state.sentAt < ONE_TAP_MS", "false", "letters/page"),
    ("letters/writing", "if (signal.aborted || state.isTyped) return;", "", "letters/page"),
    ("letters/who", "mayWrite = !isEmergency", "mayWrite = true", "letters/who"),
    # The talk with the server.
    ("edges/network/exchange", "most > 1", "most > 2", "edges/network/exchange_rounds"),
    ("edges/network/exchange", "Math.ceil(most / 2)", "Math.floor(most / 2)", "edges/network/exchange_rounds"),
    ("edges/network/exchange", "TOO_LARGE = 413", "TOO_LARGE = 414", "edges/network/exchange_rounds"),
    ("edges/network/exchange", "if (isStuck(request, outcome.body))", "if (true)", "edges/network/exchange_rounds"),
    ("edges/network/exchange", "if (isStuck(request, outcome.body))", "if (false)", "edges/network/exchange_rounds"),
    ("edges/network/exchange", '"rejected" || !result.again', '"rejected"', "edges/network/exchange_rounds"),
    ("edges/network/exchange", " && reply.cursor === request.cursor", "", "edges/network/exchange_rounds"),
    ("edges/network/exchange", " && reply.bundle === null", "", "edges/network/exchange_rounds"),
    ("edges/network/exchange", "request.epoch !== null && ", "", "edges/network/exchange_rounds"),
    ("edges/network/exchange", "await store.startOver(reply.epoch);", "", "edges/network/exchange_rounds"),
    ("edges/network/exchange", "!reply.more && ", "", "edges/network/exchange_rounds"),
    ("edges/network/exchange", ".filter((row) => row.client === client)", "", "edges/network/exchange_rounds"),
    ("edges/network/exchange", "|| status === TOO_MANY", "", "edges/network/exchange_rounds"),
    ("edges/network/exchange", "status >= SERVER_FAULTS", "status > SERVER_FAULTS", "edges/network/exchange_rounds"),
    # Whose the running session is.
    ("edges/storage/kept_run", "kept.by === me : run.id !== mine", "kept.by === me : true", "edges/storage/kept_run"),
    ("edges/storage/kept_run", "if ((await keptIn(tx))?.by === me)", "", "edges/storage/kept_run"),
    ("edges/storage/kept_run", "(await rowOf(tx, run.id)) ? newId() : run.id", "run.id", "edges/storage/kept_run"),
    ("edges/storage/kept_run", "if (run.entry) return run;", "", "edges/storage/kept_run"),
    ("edges/storage/kept_run", "...withoutStop(run), id: newId()", "...withoutStop(run)", "edges/storage/kept_run"),
]


@pytest.fixture(scope="module")
def copied(tmp_path_factory):
    """A copy of the scripts and their tests, to put faults into."""
    copy = tmp_path_factory.mktemp("spoilt")
    for folder in ("pwa_assets", "tests/js", "tests/vectors"):
        shutil.copytree(ROOT / folder, copy / folder)
    (copy / ".tools").symlink_to(ROOT / ".tools")
    return copy


def passes(node, copied, name):
    run = [node, QUIET, "--test", copied / "tests/js" / f"{name}.test.js"]
    done = subprocess.run(run, check=False, cwd=copied, capture_output=True, encoding="utf-8", timeout=RUN_SECONDS)
    return done.returncode == 0, done.stdout


@pytest.mark.long
@pytest.mark.parametrize("test", sorted({test for *_, test in MUTANTS}))
def test_the_scripts_as_they_are_pass(node, copied, test):
    is_good, output = passes(node, copied, test)
    assert is_good, output


@pytest.mark.long
@pytest.mark.parametrize(("script", "old", "new", "test"), MUTANTS)
def test_a_fault_in_a_script_is_noticed_without_a_browser(node, copied, script, old, new, test):
    path: Path = copied / "pwa_assets/js" / f"{script}.js"
    whole = path.read_text(encoding="utf-8")
    assert whole.count(old) == 1, "what is to be spoilt stands there once"
    try:
        path.write_text(whole.replace(old, new), encoding="utf-8")
        is_good, output = passes(node, copied, test)
    finally:
        path.write_text(whole, encoding="utf-8")
    assert not is_good
    assert "SyntaxError" not in output, "the fault is one of sense, not of spelling"

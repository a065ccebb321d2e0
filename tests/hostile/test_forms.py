"""Whatever is sent to a page, the answer says what is wrong, nothing is written, and the program never fails."""

import random
import re

import pytest

from tests.hostile.forms import address, names_asked_for, rules_of
from tests.hostile.texts import TEXTS, urlencoded
from tests.hostile.world import Sent, World, spoilt

SEED = 20260302
# No test may take minutes, even on a busy machine.
PARTS = 8
"""Into which the trials of every field are cut: a test may take no more than 300 s."""
SEEDS = 3
"""With which the random trials are begun; each more takes some twenty seconds."""
WAYS = ("absent", "doubled", "instead")
METHODS = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE")
KINDS = ("multipart/form-data; boundary=x", "multipart/form-data", "application/json", "", "text/plain; charset=utf-16")
BODIES = (
    b"",
    b"--x\r\n\r\n",
    b'--x\r\nContent-Disposition: form-data; name="step"\r\n\r\n\xff\r\n--x--',
    b"{",
    b"\xff" * 9000,
)
REFUSED = 400
FAULT = 500


def _says_what(page: str) -> bool:
    """Whether a page that refuses a form names the field, links to it and says what to do."""
    box = page.partition('<div class="faults" role="alert"')[2].partition("</div>")[0]
    if not box:
        return 'class="outside-lead"' in page
    sentences = re.findall(r"<(?:li|p)>([^<]+|<a [^>]+>[^<]+)<", box)
    # A hidden field cannot be linked to.
    places = re.findall(r'href="#([^"]+)"', box)
    are_there = all(f'id="{id_}"' in page or f'type="hidden" name="{id_}"' in page for id_ in places)
    return bool(sentences) and are_there and not any("cannot be used (" in sentence for sentence in sentences)


def _send(world: World, sent: Sent, entries: list[tuple[str, str]]) -> None:
    """Send a form; if it is refused, check that a sentence says so and that nothing was written."""
    body = urlencoded(entries)
    before = world.records.conn.total_changes
    answer = world.ask(sent.path, "POST", body)
    request = (sent.path, body[-300:])
    assert answer.status_code < FAULT, request
    has_written = world.records.conn.total_changes != before
    if answer.status_code >= REFUSED:
        assert _says_what(answer.text), request
        if has_written:
            after = world.content()
            world.put_back()
            assert after == world.content(), request
    if has_written or "Set-Cookie" in answer.headers:
        world.put_back()


def _posts(world: World) -> list[Sent]:
    return [sent for sent in world.forms() if sent.form.method == "post"]


def test_the_door_and_a_colleagues_own_link_are_the_only_forms_that_a_stranger_finds(door):
    assert {sent.path for sent in _posts(door)} == {"/practice/sign-in", f"/practice/welcome/{door.named['token'][0]}"}


def _spoilings(world: World, dice: random.Random, texts: int) -> list[tuple[Sent, list[tuple[str, str]]]]:
    """Return each form with each of its fields absent, doubled, and with some of the texts; the form is empty or filled."""
    names, found = names_asked_for(), []
    for sent in _posts(world):
        for name in sorted(sent.form.names | set(names)):
            for way in ("absent", "doubled", *["instead"] * texts):
                entries = list(dice.choice((sent.form.entries, sent.form.filled)))
                found.append((sent, spoilt(entries, name, dice.choice(TEXTS), way)))
    return found


def _dozens(world: World, dice: random.Random, rounds: int) -> None:
    """Spoil several fields at once."""
    known_names, posts = names_asked_for(), _posts(world)
    for _ in range(rounds):
        sent = dice.choice(posts)
        entries = list(dice.choice((sent.form.entries, sent.form.filled)))
        names = sorted(sent.form.names | set(known_names))
        for name in dice.sample(names, dice.randint(1, min(6, len(names)))):
            entries = spoilt(entries, name, dice.choice(TEXTS), dice.choice(WAYS))
        _send(world, sent, entries)


def test_no_field_can_be_sent_so_that_the_answer_is_a_fault(world):
    dice = random.Random(SEED)
    for sent, entries in dice.sample(_spoilings(world, dice, 1), 30):
        _send(world, sent, entries)
    _dozens(world, dice, 30)


def test_no_field_of_the_door_makes_it_a_fault(door):
    dice = random.Random(SEED)
    for sent, entries in dice.sample(_spoilings(door, dice, 3), 15):
        _send(door, sent, entries)
    _dozens(door, dice, 10)


@pytest.mark.long
@pytest.mark.parametrize("part", range(PARTS))
def test_the_door_at_length(door, part):
    for sent, entries in _spoilings(door, random.Random(SEED), len(TEXTS))[part::PARTS]:
        _send(door, sent, entries)


@pytest.mark.long
@pytest.mark.parametrize("part", range(PARTS))
def test_every_field_of_every_form_may_be_spoilt_in_every_way(world, counted, part):
    spoilings = _spoilings(world, random.Random(SEED), 6)[part::PARTS]
    for sent, entries in spoilings:
        _send(world, sent, entries)
    counted(f"hostile forms, field by field, part {part}: {len(spoilings)} requests")


@pytest.mark.long
@pytest.mark.parametrize("seed", range(SEED, SEED + SEEDS))
def test_several_spoilt_fields_at_once_are_no_fault_at_length(world, counted, seed):
    _dozens(world, random.Random(seed), 400)
    counted(f"hostile forms, several fields at once, seed {seed}: 400 requests")


def _queries(world: World) -> list[str]:
    return [
        f"{path}?{urlencoded([(name, text)]).decode()}"
        for path in world.pages()
        for name in names_asked_for()
        for text in TEXTS
    ]


def _open_all(world: World, paths: list[str]) -> None:
    for path in paths:
        assert world.ask(path).status_code < FAULT, path[:200]


def test_no_query_makes_a_page_a_fault(world):
    _open_all(world, random.Random(SEED).sample(_queries(world), 60))


@pytest.mark.long
@pytest.mark.parametrize("seed", range(SEED, SEED + SEEDS))
def test_no_query_of_many_makes_a_page_a_fault(world, counted, seed):
    paths = random.Random(seed).sample(_queries(world), 400)
    _open_all(world, paths)
    counted(f"hostile queries, seed {seed}: {len(paths)} requests")


def test_no_path_is_a_fault_whatever_it_names(world):
    for method in ("GET", "POST"):
        for rule in rules_of(world.site.app, method):
            for spoil in sorted(rule.arguments):
                for text in filter(None, TEXTS):
                    values = {name: world.named[name][0] for name in rule.arguments} | {spoil: text}
                    path = address(rule, values)
                    assert world.ask(path, method).status_code < FAULT, path[:200]


def test_no_method_is_a_fault_anywhere(world):
    for rule in rules_of(world.site.app, "GET"):
        for method in METHODS:
            assert world.ask(world.paths(rule)[0], method).status_code < FAULT, (method, rule)
            world.put_back()


def test_a_body_of_another_type_is_no_fault(world):
    dice = random.Random(SEED)
    for sent in _posts(world):
        for kind in dice.sample(KINDS, 2):
            body = dice.choice(BODIES)
            assert world.ask(sent.path, "POST", body, kind).status_code < FAULT, (sent.path, kind, body[:40])
            world.put_back()


@pytest.mark.parametrize(
    ("path", "changes"),
    [
        ("/practice/add", {"weights_unit": "st", "weights": "1"}),
        ("/practice/add", {"weights_unit": None, "weights": "1"}),
        ("/practice/cases/ansgar0001/routine", {"weights_unit": "st", "weights": "1"}),
        ("/practice/cases/ansgar0001/routine", {"weights": None}),
    ],
)
def test_weights_without_a_unit_of_ours_and_no_weights_are_answered_in_words(world, path, changes):
    sent = next(each for each in _posts(world) if each.path == path and "weights_unit" in each.form.names)
    entries = [entry for entry in sent.form.filled if entry[0] not in changes]
    _send(world, sent, [*entries, *((name, text) for name, text in changes.items() if text is not None)])


def test_a_form_sent_with_nothing_in_it_at_all_is_answered_in_words(world):
    for sent in _posts(world):
        _send(world, sent, [])


@pytest.mark.parametrize(
    "path",
    [
        "/practice/cases/ansgar0001?days=800000",
        "/practice/cases/ansgar0001/rehearsal/9223372036854775808",
        "/practice/sign-in?onward=/practice%0d%0aX-Other:%201",
        "/practice/sign-in?onward=/practice%E2%80%A8",
    ],
)
def test_numbers_past_all_bounds_and_broken_lines_in_an_address_are_no_fault(world, path):
    assert world.ask(path).status_code < FAULT


def test_an_invitation_of_a_number_past_all_bounds_is_not_there(world):
    answer = world.ask("/practice/cases/ansgar0001/invitations/9223372036854775808/withdraw", "POST")
    assert answer.status_code == 404
    assert "There is nothing at this address" in answer.text
    assert 'href="/practice"' in answer.text

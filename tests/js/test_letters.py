"""The phone's thread of letters against the server's, for invented logs in any order."""

import random

import pytest

from tests.builders import uuid7
from tests.events.test_letters import answered, reading, taking_back, written
from webapp.events.codec import decode
from webapp.events.letter_bodies import LETTER_LENGTH
from webapp.events.letters import letters_of

LETTERS = """async (load, { logs }) => {
  const { lettersOf } = await load("pure/letters/thread.js");
  const plain = ({ id, isOwn, by, text, isRead }) => [id, isOwn, by, text, isRead];
  return logs.map((log) => lettersOf(log).map(plain));
}"""
LENGTH = """async (load) => (await load("pure/sync/entry_check.js")).LETTER_LENGTH"""
TIDIED = """async (load, { texts }) => {
  const { tidied, lengthOf } = await load("pure/letters/thread.js");
  return texts.map((text) => [tidied(text), lengthOf(tidied(text))]);
}"""


def _log(dice):
    """Return a log of a few letters, with readings and takings back that name some of them, and nothing that is there."""
    entries = []
    for seq in range(1, dice.randrange(2, 9)):
        hour, make = dice.randrange(6, 9), dice.choice((written, answered))
        entries.append(make(seq, f"Letter {seq}.", hour=hour))
    for seq in range(20, 20 + dice.randrange(6)):
        letter = dice.randrange(1, 10)
        kind = dice.choice(("letter_seen", "letter_read", ""))
        body = dice.choice((None, None, {"text": "Another."}))
        entries.append(reading(kind, seq, letter) if kind else taking_back(seq, letter, body))
    dice.shuffle(entries)
    return entries


def _by_server(log):
    return [
        [letter.id, letter.is_clients, letter.by, letter.text, letter.read_on is not None]
        for letter in letters_of([decode(entry) for entry in log])
    ]


def test_phone_and_server_make_the_same_thread_of_every_log(ask):
    dice = random.Random(14)  # noqa: S311 - invented logs, not a secret
    logs = [_log(dice) for _ in range(200)]
    found = ask(LETTERS, logs=logs)
    assert any(len(thread) > 3 and any(letter[-1] for letter in thread) for thread in found)
    for log, thread in zip(logs, found, strict=True):
        assert thread == _by_server(log), log


def test_a_copy_of_an_entry_and_entries_of_other_kinds_change_nothing(ask):
    log = [written(1), written(1), {**written(2), "kind": "tremor_felt"}, {**written(3), "body": {"text": ""}}]
    assert [letter[0] for letter in ask(LETTERS, logs=[log])[0]] == [uuid7(1)]


def test_both_sides_allow_a_letter_of_the_same_length(ask):
    assert ask(LENGTH) == LETTER_LENGTH


@pytest.mark.parametrize("text", ["x" * 7, "é" * 7, "語" * 7, "🙂" * 7, "كتفي\nيؤلمني"])
def test_both_sides_count_a_letter_alike(ask, text):
    assert ask(TIDIED, texts=[f"  {text}\n"]) == [[text, len(text)]]


def test_half_of_a_broken_character_is_no_longer_one_when_it_is_sent(ask):
    assert ask(TIDIED, texts=["a\ud83db"]) == [["a\ufffdb", 3]]

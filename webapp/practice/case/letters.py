"""Letters on the case page: the last ones, and the form for the practitioner's answer."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from flask import request
from flask_wtf import FlaskForm
from wtforms import StringField, TextAreaField

from webapp.events.letter_bodies import LETTER_LENGTH
from webapp.events.letters import Letter
from webapp.practice import desk
from webapp.practice.forms.entries import at_most, needed, trimmed
from webapp.records.cases import Case
from webapp.sync.case import letters
from webapp.sync.log import practice_events

LETTERS_SHOWN = 8


def _plain_lines(text: str | None) -> str:
    """Return a text with each end of a line as one character; a browser sends two."""
    return (text or "").replace("\r\n", "\n")


class AnswerForm(FlaskForm):
    """A letter to the client.

    `key` becomes the letter's id, so that a form that is sent twice writes once. `seen` is a hash of the letters that the page
    showed: if another came meanwhile, nothing is sent, and the page shows it with what was typed.
    """

    text = TextAreaField(validators=[needed, at_most(LETTER_LENGTH)], filters=[_plain_lines, trimmed])
    key = StringField(filters=[trimmed])
    seen = StringField(filters=[trimmed])


@dataclass(frozen=True)
class Thread:
    """The letters that the case page shows, the newest last.

    Attributes:
        shown: The last letters, and every unread one.
        earlier: The number of letters before them.
        unread: The client's letters that the practice has not read.
        seal: The hash of all letters.
        key: A new key for the answer's form.
    """

    shown: Sequence[Letter]
    earlier: int
    unread: Sequence[Letter]
    seal: str
    key: str


def about_letters(shown: Case, sent: AnswerForm | None) -> dict[str, Any]:
    """Return the thread and the answer's form for the case page.

    Args:
        shown: The case.
        sent: The form that was sent with a fault; it takes the place of the empty form.
    """
    found = letters.thread_of(desk.records(), shown.id)
    unread = [letter for letter in found if letter.is_unread]
    most = len(found) if "letters" in request.args else LETTERS_SHOWN
    first = min([max(0, len(found) - most), *(found.index(letter) for letter in unread)])
    key = practice_events.new_id(desk.now())
    thread = Thread(found[first:], first, unread, letters.seal(found), key)
    return {"thread": thread, "answer": sent or AnswerForm(prefix="letter")}

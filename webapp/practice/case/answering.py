"""The practitioner's acts about letters: write to the client, and put on record that letters are read."""

from flask import request
from werkzeug.wrappers import Response

from webapp.dosing.faults import Fault
from webapp.practice import desk
from webapp.practice.case import page
from webapp.practice.case.letters import AnswerForm
from webapp.practice.forms.entries import LONGEST_NAME, ButtonForm
from webapp.sync.case import letters


def answer(public_id: str) -> Response | tuple[str, int]:
    """Write to the client, or show the case page again with the faults and what was typed."""
    shown, form = desk.own_case(public_id), AnswerForm(prefix="letter")
    if not form.validate():
        return page.page_of(shown, answered=form), 400
    try:
        by = desk.signed_in().name[:LONGEST_NAME]
        letters.answer(desk.records(), shown.id, form.text.data, by, form.key.data, form.seen.data, now=desk.now())
    except letters.LettersMovedError:
        form.text.errors = [Fault("letters_moved", "text", "")]
        return page.page_of(shown, answered=form), 409
    desk.say_later("answered")
    return desk.back_to_case(shown)


def mark_seen(public_id: str) -> Response:
    """Put on record that the practitioner has read the letters that the page showed as unread."""
    shown = desk.own_case(public_id)
    if not ButtonForm().validate():
        return desk.send_again(shown)
    letters.mark_seen(desk.records(), shown.id, request.form.getlist("letter"), desk.now())
    desk.say_later("letters_seen")
    return desk.back_to_case(shown)

"""A paper diary brought as a table (CSV): read as a whole, shown, and only then taken in."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import partial

from flask import render_template, request
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import StringField

from webapp.dosing.settings import ARMS
from webapp.library.diary import PaperDiary, read_diary
from webapp.library.faults import FileFault, NotAcceptedError
from webapp.practice import desk
from webapp.practice.standing import Line, line_for
from webapp.sync.from_paper import handing_out, typing_in
from webapp.sync.from_paper.typed_days import NOTHING, Collision, OnRecord, Said, collisions, left, merged, on_record
from webapp.sync.from_paper.typing_in import OnPaper
from webapp.words.faults import fault_text

MOST_LETTERS = 200_000
MOST_DAYS = 120
MOST_FAULTS = 100
ONE_DAY = timedelta(days=1)
FILE = "diary.csv"
EXAMPLE = "on,arm,sessions,during,morning,sharp,done\n2026-03-02,right,1,2,1,no,\n2026-03-03,right,1,2,1,no,50"


class TableForm(FlaskForm):
    """The table: a file, or its text once it was shown."""

    text = StringField()
    step = StringField()


@dataclass(frozen=True)
class Preview:
    """What a table would do.

    Attributes:
        days: The days that it tells of.
        fresh: The days of which it adds something.
        collisions: The numbers that the log has otherwise; they stay as they are.
    """

    days: Sequence[date]
    fresh: Sequence[date]
    collisions: Sequence[Collision]


def show_table(public_id: str) -> str:
    """Ask for the file."""
    return _page(line_for(desk.known_case(public_id)), TableForm())


def bring_table(public_id: str) -> Response | tuple[str, int] | str:
    """Show what the table would do, or take it in once that was seen."""
    shown = desk.known_case(public_id)
    line, form = line_for(shown), TableForm()
    if not form.validate():
        return _page(line, form), 400
    try:
        form.text.data = _text(form)
        paper = read_table(form.text.data, line.case.intake["arms"], line.today, _begun(line))
    except NotAcceptedError as error:
        return _page(line, form, faults=error.faults), 400
    if form.step.data != "take":
        return _page(line, form, preview=_preview(line, paper))
    typing_in.type_in(desk.records(), (shown.id, shown.public_id), paper, desk.signed_in().name, desk.now())
    desk.say_later("typed_in", min(paper.days, default=line.today))
    return desk.back_to_case(shown)


def _begun(line: Line) -> date:
    return handing_out.first_day(desk.records(), line.case.id) or line.today + ONE_DAY


def _text(form: TableForm) -> str:
    sent = request.files.get("file")
    raw = sent.read() if sent and sent.filename else (form.text.data or "").encode()
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise NotAcceptedError([FileFault(FILE, line, "", None, "not_utf8")]) from error
    if not text.strip():
        raise NotAcceptedError([FileFault(FILE, None, "", None, "table_empty")])
    if len(text) > MOST_LETTERS:
        raise NotAcceptedError([FileFault(FILE, None, "", None, "table_too_long", (MOST_LETTERS,))])
    return text


def read_table(text: str, arms: Sequence[str], today: date, begun: date) -> OnPaper:
    """Read a table as what is typed in.

    Args:
        text: The text of the file, in the format of `library.diary`.
        arms: The arms of the client.
        today: The client's local day; a later day is a fault.
        begun: The first day of the client's first routine; an earlier session is a fault.

    Raises:
        NotAcceptedError: With every fault of every line.
    """
    diary = read_diary(text, FILE, [arm for arm in ARMS if arm in arms])
    faults = [FileFault(FILE, None, "release", None, "release_at_the_desk")] if diary.releases else []
    for on in sorted({on for facts in diary.facts.values() for on in facts}):
        is_morning_ahead = any(facts[on].morning is not None for facts in diary.facts.values() if on in facts)
        if on > today or (on == today and is_morning_ahead):
            faults.append(FileFault(FILE, None, "on", on.isoformat(), "still_to_come", (today.isoformat(),)))
        elif on < begun and any(arm_facts[on].sessions for arm_facts in diary.facts.values() if on in arm_facts):
            faults.append(FileFault(FILE, None, "on", on.isoformat(), "before_the_routine", (begun.isoformat(),)))
    days = _days(diary)
    if len(days) > MOST_DAYS:
        faults.append(FileFault(FILE, None, "on", len(days), "too_many_days", (MOST_DAYS,)))
    if faults:
        raise NotAcceptedError(faults)
    return OnPaper(days)


def _days(diary: PaperDiary) -> dict[date, dict[str, Said]]:
    days: dict[date, dict[str, Said]] = {}
    for arm, facts in diary.facts.items():
        for on, fact in facts.items():
            said = Said(None, fact.during, diary.shares.get(arm, {}).get(on), fact.sharp)
            days.setdefault(on, {})[arm] = said._replace(morning=days.get(on, {}).get(arm, NOTHING).morning)
            if fact.morning is not None:
                after = days.setdefault(on + ONE_DAY, {})
                after[arm] = after.get(arm, NOTHING)._replace(morning=fact.morning)
    return {on: arms for on, arms in sorted(days.items()) if any(said != NOTHING for said in arms.values())}


def _preview(line: Line, paper: OnPaper) -> Preview:
    if not paper.days:
        return Preview((), (), ())
    record = on_record(desk.records(), line.case.id, *paper.span)
    fresh = [on for on, arms in paper.days.items() if any(_adds(record, on, arm, said) for arm, said in arms.items())]
    return Preview(sorted(paper.days), sorted(fresh), collisions(paper.days, record, only_adds=True))


def _adds(record: OnRecord, on: date, arm: str, said: Said) -> bool:
    phone, typed = (days.get(on, {}).get(arm, NOTHING) for days in (record.phones, record.typed))
    return merged(left(said, phone), typed) != typed


def _page(line: Line, form: TableForm, faults: Sequence[FileFault] = (), preview: Preview | None = None) -> str:
    return render_template(
        "paper/table.html",
        line=line,
        form=form,
        faults=faults[:MOST_FAULTS],
        more_faults=max(0, len(faults) - MOST_FAULTS),
        preview=preview,
        example=EXAMPLE,
        begun=handing_out.first_day(desk.records(), line.case.id),
        fault_text=partial(fault_text, desk.words()),
    )

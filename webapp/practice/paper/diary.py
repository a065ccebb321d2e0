"""A paper diary typed in, a week on a page, by keyboard."""

from datetime import date, timedelta

from flask import redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from webapp.dosing.settings import ARMS
from webapp.library.shelf import the_shelf
from webapp.practice import desk
from webapp.practice.paper.week import DAYS, Week
from webapp.practice.show import day_text
from webapp.practice.standing import Line, line_for
from webapp.records.cases import Case
from webapp.sync.from_paper import handing_out, typed_days, typing_in
from webapp.sync.from_paper.typed_days import OnRecord, on_record

LONGEST = timedelta(days=3660)
ONE_WEEK = timedelta(days=DAYS)


def show_diary(public_id: str) -> str:
    """Show the week that comes after what is known, or the week that begins with the day in the address."""
    shown = desk.known_case(public_id)
    line = line_for(shown)
    return _page(line, _week(line))


def save_diary(public_id: str) -> Response | tuple[str, int]:
    """Put the week on record, all of it or nothing; with a fault show it again as it was typed."""
    shown = desk.known_case(public_id)
    line = line_for(shown)
    week = _week(line)
    if not week.judge():
        return _page(line, week), 400
    differing = typed_days.collisions(week.typed().days, week.record, only_adds=False)
    if differing and week.form.seen.data != week.record.seal:
        return _page(line, week, moved="phone"), 400
    try:
        _take(shown, week)
    except typing_in.MovedError:
        return _page(line, week, moved="practice"), 400
    except typing_in.TooEarlyError as error:
        return _page(line, week, early=error.on), 400
    except typing_in.StopLoweredError as error:
        return _page(line, week, lowered=error.on), 400
    desk.say_later("typed_in_worse" if differing else "typed_in", week.days[0])
    return redirect(url_for("practice.case.show", public_id=shown.public_id), 303)


def _take(shown: Case, week: Week) -> int:
    return typing_in.type_in(
        desk.records(),
        (shown.id, shown.public_id),
        week.typed(),
        desk.signed_in().name,
        desk.now(),
        seen=week.form.seen.data or "",
        sheet_on=week.sheet_on,
    )


def _first_day(line: Line) -> date:
    try:
        first = date.fromisoformat(request.args.get("from", ""))
    except ValueError:
        first = min(
            handing_out.next_untyped(desk.records(), line.case.id, line.today),
            line.today - ONE_WEEK + timedelta(days=1),
        )
    return min(line.today, max(first, line.today - LONGEST))


def _week(line: Line) -> Week:
    first = _first_day(line)
    record = on_record(desk.records(), line.case.id, first, first + ONE_WEEK - timedelta(days=1))
    arms = [arm for arm in ARMS if arm in line.case.intake["arms"]]
    before = on_record(desk.records(), line.case.id, first - ONE_WEEK, first - timedelta(days=1))
    return Week(first, line.today, arms, record, follows_typed=_has_session(before))


def _has_session(record: OnRecord) -> bool:
    return any(said.done for arms in record.typed.values() for said in arms.values())


def _page(line: Line, week: Week, moved: str = "", *, early: date | None = None, lowered: date | None = None) -> str:
    now_on_record = typed_days.collisions(week.typed().days, week.record, only_adds=True) if moved else []
    if moved:
        week.form.seen.data = week.record.seal
    return render_template(
        "paper/diary.html",
        line=line,
        week=week,
        form=week.form,
        begun=handing_out.first_day(desk.records(), line.case.id),
        earlier=week.days[0] - ONE_WEEK,
        later=week.days[0] + ONE_WEEK if week.days[0] + ONE_WEEK <= line.today else None,
        moved=moved,
        early=early,
        lowered=lowered,
        now_on_record=now_on_record,
        sign_choices=[("", "–"), *((sign.id, desk.words().say(sign.text)) for sign in the_shelf().warnings)],
        day_choices=[("", "–"), *((day.isoformat(), day_text(day)) for day in week.days if day <= line.today)],
    )

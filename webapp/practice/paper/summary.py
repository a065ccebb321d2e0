"""One page about a client for a doctor or a physiotherapist: plots, what was noticed, doses now, stops, signs asked."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from functools import partial
from typing import Any

from flask import abort, render_template, request

from webapp.dosing.dose import range_of
from webapp.events.activities import NAMED, RATED, TOLD, Rating, named_in, ratings_in
from webapp.events.daybook import corrected_entries
from webapp.events.kinds import Event
from webapp.library.shelf import the_shelf
from webapp.practice import desk
from webapp.practice.plots.course import LEAST_DAYS, TWELVE_WEEKS, CoursePlot, course_plot
from webapp.practice.plots.days import plot_days
from webapp.practice.plots.marks import marks_of
from webapp.practice.show import movement_names
from webapp.practice.standing import Line, Standing, line_for
from webapp.records import events, practitioners, routines
from webapp.sync.bundle.plans import plan_of
from webapp.sync.case.releases import Released, releases_of
from webapp.sync.folding.review import Noticed, noticed
from webapp.sync.log.diary import entries_of, of_phones
from webapp.words.amounts import load_text, range_text
from webapp.words.findings import UNNAMED_EMERGENCY, UNNAMED_SIGN, evidence_text, finding_text, since_text

LONGEST_QUESTION = 300
MOST_SHOWN = 5
ONE_DAY = timedelta(days=1)
ALL = -1


@dataclass(frozen=True)
class Done:
    """How many of the days that asked for a session had one."""

    done: int
    days: int


def show_summary(public_id: str) -> str:
    """Show the page, ready to be printed; `ask` in the address is the question that the practitioner adds."""
    line = line_for(desk.known_case(public_id))
    if line.version is None or not line.standings:
        abort(404)
    words, db = desk.words(), desk.records()
    weights = line.version.settings["weights"]
    return render_template(
        "paper/summary.html",
        line=line,
        ask=request.args.get("ask", "").strip()[:LONGEST_QUESTION],
        longest=LONGEST_QUESTION,
        plots=_plots(line),
        done={stand.arm: _done(stand) for stand in line.standings},
        found=_findings(line),
        finding=partial(finding_text, words, weights=weights),
        since=partial(since_text, words),
        evidence=partial(evidence_text, words),
        released=_releases(line),
        raised=_raised(line),
        asked=len(the_shelf().warnings),
        sign_text=_sign_text,
        activities=_activities(line),
        names=movement_names(line.version.routine),
        load=partial(load_text, words),
        range_said=lambda ease: range_text(words, range_of(ease)),
        reach=practitioners.reach_of(db, desk.signed_in().id),
    )


def _first(line: Line) -> date:
    begun = line.today - ((line.day or 1) - 1) * ONE_DAY
    return min(max(line.today - (TWELVE_WEEKS - 1) * ONE_DAY, begun), line.today - (LEAST_DAYS - 1) * ONE_DAY)


def _plots(line: Line) -> list[CoursePlot]:
    first, versions = _first(line), routines.of_client(desk.records(), line.case.id)
    marks = marks_of(desk.records(), line.case.id, first, line.today)
    return [
        course_plot(stand.arm, plot_days(stand.account, versions, first, line.today, marks)) for stand in line.standings
    ]


def _done(stand: Standing) -> Done:
    days = [day for day in stand.account.days[-TWELVE_WEEKS:] if day.state_before.mode == "training"]
    return Done(sum(day.facts.sessions > 0 for day in days), len(days))


def _findings(line: Line) -> list[Noticed]:
    accounts = {stand.arm: stand.account for stand in line.standings}
    plan = plan_of(line.version) if line.version else None
    return noticed(accounts, line.today, plan, line.course)[:MOST_SHOWN]


def _releases(line: Line) -> list[tuple[str, Released]]:
    db, client = desk.records(), line.case.id
    found = [
        (stand.arm, each)
        for stand in line.standings
        for each in releases_of(db, client, stand.arm, stand.account, line.today)
    ]
    return sorted(found, key=lambda pair: pair[1].on, reverse=True)[:MOST_SHOWN]


def _raised(line: Line) -> list[Event]:
    logged = events.latest_of(desk.records(), line.case.id, ("warning_raised", "entry_corrected"), ALL)
    raised = [entry for entry in corrected_entries(of_phones(entries_of(logged))) if entry.kind == "warning_raised"]
    asked_at_start = {sign for answer in line.screening.answers for sign in answer.body["signs"]}
    later = [entry for entry in raised if entry.body["sign"] not in asked_at_start]
    return sorted(later, key=lambda entry: entry.on, reverse=True)[:MOST_SHOWN]


def _sign_text(sign: str) -> str:
    texts = {each.id: each.text for each in the_shelf().warnings}
    texts |= {"unnamed": UNNAMED_SIGN, "unnamed_emergency": UNNAMED_EMERGENCY}
    return desk.words().say(texts[sign]) if sign in texts else sign


def _activities(line: Line) -> list[tuple[str, list[Rating]]]:
    logged: Any = events.latest_of(desk.records(), line.case.id, (NAMED, RATED, TOLD, "entry_corrected"), ALL)
    entries = corrected_entries(entries_of(logged))
    ratings = ratings_in(entries)
    return [(name, _ends(each for each in ratings if each.activity == name)) for name in named_in(entries)]


def _ends(ratings: Iterable[Rating]) -> list[Rating]:
    """Return the first and the last rating."""
    rated = tuple(ratings)
    return list(dict.fromkeys((rated[0], rated[-1]))) if rated else []

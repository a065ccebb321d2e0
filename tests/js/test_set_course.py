"""The phone's course of a day against the server's, for invented logs in any order."""

import random
from datetime import date, timedelta

from tests.builders import event, session
from tests.js.hostile_bodies import OTHERS
from webapp.events.codec import decode
from webapp.events.course_set import course_on, courses_set, days_done, next_asked
from webapp.events.kinds import EventError

DAY = date(2026, 3, 2)
DAYS = 24
COURSES = """async (load, { logs }) => {
  const { courseOn, daysDone, nextAsked, trainedDays } = await load("pure/dose/set_course.js");
  return logs.map(({ log, day }) => {
    const { to, daysAWeek, since, reason, by, until } = courseOn(log, day);
    const trained = trainedDays(["right", "left"], log);
    const next = to === "maintenance" ? nextAsked(trained, day, daysAWeek) : null;
    return [to, daysAWeek, since, reason, by, daysDone(trained, day), next, until];
  });
}"""


def _log(dice):
    """Return a log of sessions and of courses that were set, a few of them of a body that does not fit."""
    entries = [session(DAY + timedelta(days=day), 1, seq=day + 1) for day in range(DAYS) if dice.random() < 0.4]
    for seq in range(100, 100 + dice.randrange(6)):
        body = {"to": dice.choice(("training", "maintenance", "rest", "rest", "ended")), "by": "A name"}
        body |= {"reason": f"Reason {seq}.", "days_a_week": dice.choice((2, 3, 4, 5))}
        body["until"] = (DAY + timedelta(days=dice.randrange(DAYS))).isoformat()
        if dice.random() < 0.2:
            body[dice.choice(("to", "days_a_week", "until", "reason"))] = dice.choice(OTHERS)
        entries.append(event("course_set", DAY + timedelta(days=dice.randrange(DAYS)), body, seq=seq))
    dice.shuffle(entries)
    return entries


def _fitting(log):
    for entry in log:
        try:
            yield decode(entry)
        except EventError:
            continue


def _by_server(log, day):
    events = list(_fitting(log))
    course = course_on(courses_set(events), day)
    trained = {each.on for each in events if each.kind == "session_finished"}
    next_on = next_asked(trained, day, course.days_a_week).isoformat() if course.to == "maintenance" else None
    since = course.since.isoformat() if course.since else None
    until = course.until.isoformat() if course.until else None
    return [course.to, course.days_a_week, since, course.reason, course.by, days_done(trained, day), next_on, until]


def test_phone_and_server_find_the_same_course_on_every_day_of_every_log(ask):
    dice = random.Random(7)  # noqa: S311 - invented logs, not a secret
    drawn = [(_log(dice), DAY + timedelta(days=dice.randrange(DAYS))) for _ in range(300)]
    found = ask(COURSES, logs=[{"log": log, "day": day.isoformat()} for log, day in drawn])
    assert {each[0] for each in found} == {"training", "maintenance", "rest", "ended"}
    assert any(each[6] and each[6] > day.isoformat() for each, (_, day) in zip(found, drawn, strict=True))
    for (log, day), phone in zip(drawn, found, strict=True):
        assert phone == _by_server(log, day), (day, log)

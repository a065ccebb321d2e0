"""Measures the timing of a session on a slow phone: a real server, a real Chromium slowed six times, a real session.

Method. A server process with a database of its own serves one invented client. Chromium opens the invitation, joins,
starts the session and plays it in real time, with the page's main thread slowed by the throttling rate. A probe in the
page (session_probe.js) records, without changing anything:

- the times on the audio clock for which tones are scheduled;
- the onsets of the tones in the signal, exact to the sample, by an audio worklet (onset_ear.js);
- each change of the step's name, numeral and phase words, with the moment after the frame in which it was painted;
- each write of the run to storage;
- readings of the audio clock, the forward clock and the wall clock at the same moments.

When each change was due is computed from the cue sheet alone (timing.py). The floor is a bare page in the same browser,
slowed by the same factor. It moves as many lines in each frame as a picture of the session has, and writes one text four
times a second.
"""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from playwright.sync_api import BrowserContext, sync_playwright

from webapp.bench import timing
from webapp.bench.listening import floor_of, heard_in, join_and_start, listen_in, throttle
from webapp.bench.served import served_client
from webapp.words import Words
from webapp.words import bench as say

SECONDS, THROTTLE = 600, 6
FLOOR_TIMES = 60
PHONE: dict[str, Any] = {
    "viewport": {"width": 390, "height": 844},
    "device_scale_factor": 2,
    "is_mobile": True,
    "has_touch": True,
}
QUIET = ("--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-sync")
GATES = {"worst_tone_error_ms": 5, "screen_p95_ms": 50, "screen_max_ms": 100, "drift_ms": 20}


def bench_session(words: Words, chromium: str, seconds: int = SECONDS, times: int = THROTTLE) -> dict[str, Any]:
    """Play a session in real time, and return how late its tones and its screen were.

    Args:
        words: The language of the sentences in the answer.
        chromium: The path of the browser.
        seconds: How much of the session is played, from its start.
        times: How many times slower the page's processor is made, 1 or more.
    """
    with served_client() as (origin, token), _browser(chromium, origin) as context:
        floor = floor_of(context, FLOOR_TIMES, times)
        page = context.new_page()
        throttle(context, page, times)
        join_and_start(page, token)
        heard = heard_in(page, seconds)
    result = results_of(heard, seconds)
    result["floor"] = {"what": words.say(say.SESSION_FLOOR), "screen_ms": timing.spread(floor)}
    result["screen_p95_times_the_floor"] = round(
        result["screen_ms"]["p95"] / max(result["floor"]["screen_ms"]["p95"], 0.1), 2
    )
    load = [round(each, 1) for each in os.getloadavg()]
    method = [words.say(line) for line in say.SESSION_METHOD]
    return {"method": method, "seconds": seconds, "slowed_times": times, "gates": GATES, "load": load, **result}


def results_of(heard: dict[str, Any], seconds: float) -> dict[str, Any]:
    """Return the errors of tones and of the screen, up to a second of the cue sheet.

    Args:
        heard: The result of `listening.heard_in`.
        seconds: The second of the cue sheet at which to stop.
    """
    until = min(seconds, sum(step["seconds"] for step in heard["steps"])) * 1000
    cues = [at for at in heard["cues"] if at < until]
    tones = timing.tones_of(heard, cues)
    screen = timing.screen_lateness(heard, heard["steps"], until)
    by_clock = timing.clock_lateness(heard, tones)
    return {
        "played_seconds": until / 1000,
        "tones": {"due": len(cues), "heard": len(tones), "layouts": len({tone.layout for tone in tones})},
        "tone_error_on_the_audio_clock_ms": timing.spread(timing.sheet_errors(tones)),
        "tones_moved_to_follow_the_session_clock_ms": timing.moved_origins(tones),
        "audio_clock_told_apart_ms": timing.clocks_apart(heard),
        "tone_off_the_session_clock_ms": timing.spread([abs(late) for late in by_clock]),
        "tone_drift_ms": timing.drift(by_clock),
        "screen_ms": timing.spread(screen),
        "screen_changes_missed": sum(late > timing.MISSED for late in screen),
        "screen_drift_ms": timing.drift(screen),
        "steps_shown_before_they_were_kept": timing.shown_before_kept(heard),
    }


@contextmanager
def _browser(chromium: str, origin: str) -> Iterator[BrowserContext]:
    with sync_playwright() as engine:
        browser = engine.chromium.launch(executable_path=chromium, args=list(QUIET))
        context = browser.new_context(base_url=origin, locale="en-GB", **PHONE)
        listen_in(context)
        yield context
        browser.close()

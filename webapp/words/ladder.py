"""The ladder as a table for a terminal of 80 columns, and its jumps with what would bridge them."""

from collections.abc import Mapping, Sequence
from typing import Any

from babel.numbers import format_decimal, format_percent

from webapp.dosing import figures
from webapp.dosing.chain import Jump
from webapp.dosing.ladder import Ladder, Rung
from webapp.words.amounts import load_text, number_text
from webapp.words.catalogue import Words, mark

HEADS = (
    mark("rung"),
    mark("weight"),
    mark("reps"),
    mark("sides"),
    mark("first week"),
    mark("work, J"),
    mark("rise"),
    mark("peak, N m"),
    mark("of max."),
)
WIDTHS = (4, 10, 4, 5, 10, 7, 5, 9, 7)
JUMP = mark(
    "From %(here)s to %(there)s is a jump: %(there)s would begin at %(reps)s reps, under the least of %(low)s. "
    "A weight of %(low_kg)s to %(high_kg)s kg in between (%(low_lb)s to %(high_lb)s lb) would bridge it"
)
WATER = mark("; a bottle with %(litres)s l of water weighs %(kg)s kg more than empty.")
MORE_STEPS = mark(
    "From %(here)s to %(there)s is a jump: %(there)s would begin at %(reps)s reps, under the least of %(low)s. "
    "No single weight in between bridges it; the next one may be up to %(high_kg)s kg (%(high_lb)s lb)."
)
ACCEPTED = mark("Taken on by the practitioner: it is climbed all the same.")
ENDS = mark("The ladder ends below it.")
TOO_HEAVY = mark("%(load)s is never used: over %(share)s of the estimated maximum of the weakest direction.")
WARNED = mark("From rung %(rung)s on the peak is over %(share)s of the estimated maximum: watch for it.")
ESTIMATE = mark("The maximum is a crude estimate from ten men's torques; it is no measure of this person.")
HALF_LITRE = 0.5

Weights = Sequence[Mapping[str, Any]]


def _percent(words: Words, share: float) -> str:
    return format_percent(round(share, 3), format="0.0 %", locale=words.cldr)


def _plain(words: Words, value: float, pattern: str) -> str:
    return format_decimal(value, format=pattern, locale=words.cldr)


def _row(words: Words, rung: Rung, weights: Weights, sessions: int) -> tuple[str, ...]:
    short = f"{sessions}×{rung.short.reps}/{rung.short.side_reps}" if sessions > 1 else "–"
    return (
        str(rung.number),
        load_text(words, rung.load_kg, weights),
        str(rung.count.reps),
        str(rung.count.side_reps),
        short,
        _plain(words, rung.work_j, "0.0"),
        "–" if rung.rise is None else _percent(words, rung.rise),
        _plain(words, rung.peak_nm, "0.00"),
        _percent(words, rung.share),
    )


def _columns(cells: Sequence[str]) -> str:
    return "  ".join(cell.rjust(width) for cell, width in zip(cells, WIDTHS, strict=True)).rstrip()


def jump_lines(words: Words, jump: Jump, weights: Weights, low_reps: int) -> list[str]:
    """Name a jump and what would bridge it, in kilograms, pounds and as water in a bottle."""
    low, high = jump.bridge_kg
    told = {
        "here": load_text(words, jump.from_kg, weights),
        "there": load_text(words, jump.to_kg, weights),
        "reps": jump.reps,
        "low": low_reps,
        "low_kg": number_text(words, round(low, 2)),
        "high_kg": number_text(words, round(high, 2)),
        "low_lb": number_text(words, round(low / figures.POUND.value, 1)),
        "high_lb": number_text(words, round(high / figures.POUND.value, 1)),
    }
    if not jump.is_bridged_by_one:
        line = words.say(MORE_STEPS, **told)
    else:
        water = number_text(words, HALF_LITRE if low <= HALF_LITRE <= high else round((low + high) / 2, 1))
        line = words.say(JUMP, **told) + words.say(WATER, litres=water, kg=water)
    return [line, words.say(ACCEPTED if jump.accepted else ENDS)]


def ladder_notes(words: Words, ladder: Ladder, weights: Weights, low_reps: int) -> list[str]:
    """Give the sentences below the table: jumps, weights left out, and where the peak grows large."""
    notes = [" ".join(jump_lines(words, jump, weights, low_reps)) for jump in ladder.jumps]
    top = _percent(words, figures.TOP_SHARE_OF_MAXIMUM.value)
    notes += [words.say(TOO_HEAVY, load=load_text(words, kg, weights), share=top) for kg in ladder.too_heavy_kg]
    warn = figures.WARN_SHARE_OF_MAXIMUM.value
    over = [rung.number for rung in ladder.rungs if rung.share > warn]
    if over:
        notes.append(words.say(WARNED, rung=over[0], share=_percent(words, warn)))
    return [*notes, words.say(ESTIMATE)]


def ladder_lines(words: Words, ladder: Ladder, weights: Weights) -> list[str]:
    """Lay the ladder out as a table, the bottom first."""
    sessions = ladder.first_week_sessions
    rows = [_row(words, rung, weights, sessions) for rung in ladder.rungs]
    return [_columns([words.say(head) for head in HEADS]), *map(_columns, rows)]

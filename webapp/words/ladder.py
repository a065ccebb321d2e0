"""The ladder as a table for a terminal of 80 columns, and its jumps with what would bridge them."""

from collections.abc import Mapping, Sequence
from math import ceil, floor
from typing import Any

from babel.numbers import format_decimal, format_percent

from webapp.dosing import figures
from webapp.dosing.chain import BOTTLE_KG, Bridge, Jump
from webapp.dosing.first_week import Stage
from webapp.dosing.ladder import Ladder, Rung, bridge_for
from webapp.dosing.plan import Plan
from webapp.dosing.state import FULLER
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
WIDTHS = (4, 9, 4, 5, 13, 7, 6, 9, 7)
LEGEND = mark(
    "Reps: palm down and palm up; sides: thumb up and little finger up. Work: one whole session at full range. "
    "Peak: the heaviest moment at the wrist, with the hand level. Of max.: its share of the estimated strength of the weakest direction."
)
LEGEND_OF_THE_FIRST_WEEK = mark(
    "First week: sessions a day × reps/sides, in the first days and then in the fuller ones."
)
JUMP = mark("From %(here)s to %(there)s is a jump.")
TOO_FEW = mark("%(there)s could begin with at most %(reps)s reps. That is under the fewest reps, %(low)s.")
NO_COUNT = mark("No whole number of reps with %(there)s keeps the step in work between 0 and 10 per cent.")
NO_SIDES = mark("No number of reps to either side keeps the step in work between 0 and 10 per cent.")
BRIDGED = mark("A weight of %(low_kg)s to %(high_kg)s kg in between bridges it")
BRIDGED_BY_ONE = mark("A weight of %(low_kg)s kg in between bridges it")
IN_POUNDS = mark(" (%(low_lb)s to %(high_lb)s lb)")
IN_POUNDS_ONE = mark(" (%(low_lb)s lb)")
WATER = mark("; so does a bottle with %(litres)s l of water: %(kg)s kg, without the bottle.")
NOT_BY_ONE = mark("No single weight in between bridges it: two are needed, or more reps before it.")
ACCEPTED = mark("The practitioner accepts the jump, so the ladder goes on above it.")
ENDS = mark("The ladder ends below the jump.")
TOO_HEAVY = mark("%(load)s is never used: its heaviest moment is over %(share)s of estimated strength.")
WARNED = mark("From rung %(rung)s up, the heaviest moment is over %(share)s of estimated strength. Go carefully.")
ESTIMATE = mark("Estimated strength is a rough figure, measured in ten men. It says nothing sure about this person.")
POUND_KG = figures.POUND.value

Weights = Sequence[Mapping[str, Any]]


def _percent(words: Words, share: float) -> str:
    return format_percent(round(share, 3), format="0.0 %", locale=words.cldr)


def _plain(words: Words, value: float, pattern: str) -> str:
    return format_decimal(value, format=pattern, locale=words.cldr)


def _stage(stage: Stage) -> str:
    return f"{stage.sessions}×{stage.reps.reps}/{stage.reps.side_reps}"


def _row(words: Words, rung: Rung, weights: Weights) -> tuple[str, ...]:
    return (
        str(rung.number),
        load_text(words, rung.load_kg, weights),
        str(rung.count.reps),
        str(rung.count.side_reps),
        " ".join(map(_stage, rung.stages[:FULLER])) or "–",
        _plain(words, rung.work_j, "0.0"),
        "–" if rung.rise is None else _percent(words, rung.rise),
        _plain(words, rung.peak_nm, "0.00"),
        _percent(words, rung.share),
    )


def _columns(cells: Sequence[str]) -> str:
    return "  ".join(cell.rjust(width) for cell, width in zip(cells, WIDTHS, strict=True)).rstrip()


def _refused(jump: Jump, low_reps: int) -> str:
    """Return the sentence that says why the heavier weight cannot follow."""
    if jump.window.high < jump.window.low:
        return NO_COUNT
    return TOO_FEW if jump.window.high < low_reps else NO_SIDES


def _bridged(words: Words, bridge: Bridge | None) -> str:
    if bridge is None:
        return words.say(NOT_BY_ONE)
    # Rounded inwards, so that every weight of the range that is shown bridges the jump.
    low_lb, high_lb = ceil(10 * bridge.low_kg / POUND_KG) / 10, floor(10 * bridge.high_kg / POUND_KG) / 10
    kilograms = {"low_kg": number_text(words, bridge.low_kg), "high_kg": number_text(words, bridge.high_kg)}
    said = words.say(BRIDGED if bridge.low_kg < bridge.high_kg else BRIDGED_BY_ONE, **kilograms)
    if low_lb <= high_lb:
        pounds = {"low_lb": number_text(words, low_lb), "high_lb": number_text(words, high_lb)}
        said += words.say(IN_POUNDS if low_lb < high_lb else IN_POUNDS_ONE, **pounds)
    bottle = number_text(words, BOTTLE_KG)
    return said + (words.say(WATER, litres=bottle, kg=bottle) if bridge.has_bottle else ".")


def jump_lines(words: Words, jump: Jump, bridge: Bridge | None, weights: Weights, low_reps: int) -> list[str]:
    """Name a jump, why it is one, and what would bridge it, in kilograms, pounds and as water.

    Args:
        words: The language.
        jump: One of the ladder's.
        bridge: By `dosing.ladder.bridge_for`.
        weights: As entered.
        low_reps: The fewest reps allowed.
    """
    gaps = {
        "here": load_text(words, jump.from_kg, weights),
        "there": load_text(words, jump.to_kg, weights),
        "reps": jump.window.high,
        "low": low_reps,
    }
    why = [words.say(JUMP, **gaps), words.say(_refused(jump, low_reps), **gaps)]
    return [*why, _bridged(words, bridge), words.say(ACCEPTED if jump.accepted else ENDS)]


def ladder_notes(words: Words, plan: Plan, weights: Weights) -> list[str]:
    """Return the sentences below the table: what its columns mean, jumps, weights left out, and where the peak grows large."""
    ladder, tuning = plan.ladder, plan.tuning
    legend = [words.say(LEGEND), *([words.say(LEGEND_OF_THE_FIRST_WEEK)] if ladder.has_first_week else [])]
    bridges = [bridge_for(plan.routine, plan.client, jump) for jump in ladder.jumps]
    jumps = zip(ladder.jumps, bridges, strict=True)
    notes = legend + [" ".join(jump_lines(words, jump, bridge, weights, tuning.low_reps)) for jump, bridge in jumps]
    top = _percent(words, tuning.top_share)
    notes += [words.say(TOO_HEAVY, load=load_text(words, kg, weights), share=top) for kg in ladder.too_heavy_kg]
    warn = figures.WARN_SHARE_OF_MAXIMUM.value
    over = [rung.number for rung in ladder.rungs if rung.share > warn]
    if over:
        notes.append(words.say(WARNED, rung=over[0], share=_percent(words, warn)))
    return [*notes, words.say(ESTIMATE)]


def ladder_lines(words: Words, ladder: Ladder, weights: Weights) -> list[str]:
    """Return the ladder as the lines of a table, the lowest rung first."""
    rows = [_row(words, rung, weights) for rung in ladder.rungs]
    return [_columns([words.say(head) for head in HEADS]), *map(_columns, rows)]

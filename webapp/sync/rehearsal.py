"""A rehearsal: the session that one routine version asks for on a chosen rung, as the phone would play it.

Pure, like the bundle: may know the core, the content on the shelf and words. Nothing of it is ever logged.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from msgspec import to_builtins

from webapp.dosing.dose import dose
from webapp.dosing.hand import by_hand
from webapp.dosing.state import State
from webapp.library.shelf import Shelf
from webapp.sync.bundle import Prescribed
from webapp.sync.bundle_parts import BundleParts
from webapp.wire.bundle import Dose
from webapp.words import Words


def rehearsal_of(given: Prescribed, rung: int, ease: int, words: Words, shelf: Shelf) -> dict[str, Any]:
    """Write the session of a training day in one language.

    Args:
        given: The routine version for its client.
        rung: 1 to the top of its ladder; one beyond is taken as the nearest end.
        ease: 0 none, 1 three-quarter range, 2 half range.
        words: The language.
        shelf: The content.

    Returns:
        `summary` and `minutes` of the dose for one arm, `arms`, `cues` of each movement, and
        `steps`: the sheets of all arms in order, a change of arm between them, each step with
        `arm` and `weighted`.
    """
    parts = BundleParts(given.plan, given.weights, words, shelf)
    asked = parts.dose(dose(given.plan, by_hand(given.plan, State(1), rung, ease)))
    places = [place for steps in parts.sheets for place in parts.sheet(steps)]
    steps = to_builtins(parts.all_steps())
    arms = given.plan.client.arms
    return {
        "summary": asked.summary,
        "minutes": asked.minutes,
        "arms": list(arms),
        "cues": {id_: to_builtins(movement.cues) for id_, movement in parts.movements().items()},
        "steps": list(
            _joined([steps[place] for place in places], arms, to_builtins(parts.change_arm()), _weighted(asked))
        ),
    }


def _weighted(asked: Dose) -> set[str]:
    return {each.movement for each in asked.sets if each.load_kg}


def _joined(
    sheet: list[dict[str, Any]], arms: tuple[str, ...], changes: Mapping[str, dict[str, Any]], weighted: set[str]
) -> Iterator[dict[str, Any]]:
    for arm in arms:
        if arm != arms[0]:
            yield {**changes[arm], "arm": arm, "weighted": False}
        own = sheet if arm == arms[-1] else [step for step in sheet if step["kind"] != "done"]
        yield from ({**step, "arm": arm, "weighted": step["movement"] in weighted} for step in own)

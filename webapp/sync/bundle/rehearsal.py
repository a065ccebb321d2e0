"""A rehearsal: the session of a routine version on a chosen rung, as the phone would play it.

Pure, like the bundle: may know the core, the content on the shelf and words. A rehearsal is never logged.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from msgspec import to_builtins

from webapp.dosing.dose import dose
from webapp.dosing.hand import by_hand
from webapp.dosing.state import State
from webapp.library.shelf import Shelf
from webapp.sync.bundle.bundle import Prescribed
from webapp.sync.bundle.bundle_parts import BundleParts
from webapp.wire.bundle import Dose
from webapp.words import Words


def rehearsal_of(prescription: Prescribed, rung: int, ease: int, words: Words, shelf: Shelf) -> dict[str, Any]:
    """Write the session of a training day in one language.

    Args:
        prescription: The routine version, fitted to its client.
        rung: 1 to the top of the ladder; a number outside counts as the nearest end.
        ease: 0 no ease, 1 three-quarter range, 2 half range.
        words: The catalogue of the language.
        shelf: The content.

    Returns:
        `summary` and `minutes` of the dose for one arm, `arms`, `cues` of each movement, `own` of those of the practice's
        own, and `steps`: the sheets of all arms in order, a change of arm between them, each step with
        `arm` and `weighted`.
    """
    parts = BundleParts(prescription.plan, prescription.weights, words, shelf.with_own(prescription.own))
    today_dose = parts.dose(dose(prescription.plan, by_hand(prescription.plan, State(1), rung, ease)))
    positions = [index for steps in parts.sheets for index in parts.sheet(steps)]
    steps = to_builtins(parts.all_steps())
    arms = prescription.plan.client.arms
    return {
        "summary": today_dose.summary,
        "minutes": today_dose.minutes,
        "arms": list(arms),
        "cues": {id_: to_builtins(movement.cues) for id_, movement in parts.movements().items()},
        "own": {id_: to_builtins(movement.own) for id_, movement in parts.movements().items() if movement.own},
        "steps": list(
            _joined([steps[index] for index in positions], arms, to_builtins(parts.change_arm()), _weighted(today_dose))
        ),
    }


def _weighted(today_dose: Dose) -> set[str]:
    return {each.movement for each in today_dose.sets if each.load_kg}


def _joined(
    sheet: list[dict[str, Any]], arms: tuple[str, ...], changes: Mapping[str, dict[str, Any]], weighted: set[str]
) -> Iterator[dict[str, Any]]:
    for arm in arms:
        if arm != arms[0]:
            yield {**changes[arm], "arm": arm, "weighted": False}
        own = sheet if arm == arms[-1] else [step for step in sheet if step["kind"] != "done"]
        yield from ({**step, "arm": arm, "weighted": step["movement"] in weighted} for step in own)

"""The parts of a bundle as plain JSON values, in one language.

They may know the core, the content on the shelf and words, and decide nothing.
"""

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

from msgspec import UNSET

from webapp.dosing import cue_sheet, ways
from webapp.dosing.almanac import Almanac
from webapp.dosing.body import arc_degrees, work_of_rep_j
from webapp.dosing.cue_sheet import Step
from webapp.dosing.dose import Dose, DoseSet
from webapp.dosing.figures import RANGE_BY_EASE
from webapp.dosing.gap_table import COLUMN_OF_DAY, GAP_REASONS
from webapp.dosing.plan import Plan
from webapp.dosing.release import released, returns
from webapp.dosing.responses import IDLE, LETTERS, RESPONSES
from webapp.dosing.settings import DIRECTION_OF
from webapp.dosing.state import State
from webapp.events.kinds import LEVELS
from webapp.library.movement import Movement
from webapp.library.shelf import Shelf
from webapp.wire import bundle as wire
from webapp.words import Spoken, StepWords, Words, change_arm_words, dose_summary, load_text, step_words
from webapp.words.own_movements import cautions_of, isolated

Weights = Sequence[Mapping[str, Any]]


def _steps(column: Sequence[int]) -> list[int]:
    return [here - before for before, here in pairwise((0, *column))]


class BundleParts:
    """Writes the parts of one bundle in one language."""

    def __init__(self, plan: Plan, weights: Weights, words: Words, shelf: Shelf) -> None:
        self.plan, self.weights, self.words, self.shelf = plan, weights, words, shelf
        self.sheets: dict[tuple[Step, ...], int] = {}
        self.steps: dict[Step, int] = {}
        self.counts: dict[tuple[int, ...], int] = {}
        self.said = {id_: movement.said(words.say) for id_, movement in shelf.movements.items()}
        self.names = {id_: isolated(movement.name) for id_, movement in self.said.items()}
        self.spoken = {
            id_: Spoken(self.names[id_], movement.cues.start, movement.how[0]) for id_, movement in self.said.items()
        }

    def almanac(self, almanac: Almanac) -> wire.Almanac:
        """Write the almanac; in a column of rows, each row is written as its difference from the row before it."""
        whys: dict[tuple[tuple[str, ...], ...], int] = {}
        return wire.Almanac(
            responses=RESPONSES,
            letters={letter: response for response, letter in LETTERS.items()},
            idle=IDLE,
            next=[_steps(column) for column in zip(*almanac.next, strict=True)],
            why=[whys.setdefault(row, len(whys)) for row in almanac.reasons],
            whys=list(whys),
            dose=almanac.dose_of,
            rung=[state.rung for state in almanac.states],
            ease=[state.ease for state in almanac.states],
            mode=[state.mode for state in almanac.states],
            streak=[state.settled_streak for state in almanac.states],
            rest=[state.rest_days for state in almanac.states],
            gap=self._gap(almanac),
            release=self._release(almanac),
        )

    def _gap(self, almanac: Almanac) -> wire.Gap:
        return wire.Gap(
            columns={name: _steps(column) for name, column in almanac.gap.columns.items()},
            by_day=COLUMN_OF_DAY,
            half_way=almanac.gap.half_way,
            reasons=GAP_REASONS,
        )

    def _release(self, almanac: Almanac) -> wire.Releases:
        # With these a phone can follow a release on a later day without a network. Held rows with the same offer share a list.
        offers: dict[tuple[tuple[int, int, int], ...], int] = {}
        held = [(row, state) for row, state in enumerate(almanac.states) if state.mode == "held"]
        of = {str(row): offers.setdefault(self._returns(almanac, state), len(offers)) for row, state in held}
        return wire.Releases(of=of, offers=list(offers))

    def _returns(self, almanac: Almanac, held: State) -> tuple[tuple[int, int, int], ...]:
        chosen = returns(self.plan, held)
        return tuple((*each, almanac.position(released(self.plan, held, each)).row) for each in chosen)

    def rep_work(self) -> dict[str, list[tuple[float, float, float]]]:
        """Write the work of one rep, by movement: (kg, share of the range, joules) for each load and range in the routine."""
        loads = sorted({rung.load_kg for rung in self.plan.ladder.rungs})
        played = [(load_kg, step.value) for load_kg in loads for step in RANGE_BY_EASE]
        return {
            movement: [(*each, round(self._rep_j(DIRECTION_OF[movement], *each), 5)) for each in played]
            for movement in self.plan.routine.directions
        }

    def _rep_j(self, direction: str, load_kg: float, share: float) -> float:
        return work_of_rep_j(self.plan.client.body, load_kg, *arc_degrees(direction, share))

    def dose(self, dose: Dose) -> wire.Dose:
        """Write a dose, and collect its sheet."""
        sheet = cue_sheet.write(self.plan, dose)
        minutes = max(1, round(cue_sheet.seconds_of(sheet) / 60)) if sheet else 0
        return wire.Dose(
            mode=dose.mode,
            sessions=dose.sessions,
            minutes=minutes,
            work_j=round(dose.work_j, 2),
            sets=[self._set(each) for each in dose.sets],
            holds=[wire.Hold(movement=hold.movement, seconds=hold.seconds) for hold in dose.holds],
            warm_ups=[wire.WarmUp(movement=warm_up.movement, reps=warm_up.reps) for warm_up in dose.warm_ups],
            summary=dose_summary(self.words, dose, self.names, self.weights, minutes),
            sheet=self.sheets.setdefault(sheet, len(self.sheets)) if sheet else None,
            short=self._count(ways.short_reps(dose)) if sheet else UNSET,
            sport=self._sport(dose) if sheet else UNSET,
        )

    def _sport(self, dose: Dose) -> tuple[int, int]:
        before, after = ways.around_sport(self.plan.client.body, dose)
        return self._count(before), self._count(after)

    def _count(self, reps: tuple[int, ...]) -> int:
        # The reps of each set, as an index into the list of all counts.
        return self.counts.setdefault(reps, len(self.counts))

    def timing(self) -> dict[str, tuple[float, float, float]]:
        """Write the times that a client may change, in seconds: the routine's own time, the least, the most."""
        times = ways.adjustable(self.plan.routine.tempo)
        return {name.removesuffix("_seconds"): each for name, each in times.items()}

    def _set(self, dose_set: DoseSet) -> wire.DoseSet:
        return wire.DoseSet(
            movement=dose_set.movement,
            direction=dose_set.direction,
            reps=dose_set.reps,
            load_kg=dose_set.load_kg,
            load=load_text(self.words, dose_set.load_kg, self.weights),
            range=dose_set.range,
        )

    def step(self, step: Step, said: StepWords) -> wire.Step:
        """Write a step with its words."""
        return wire.Step(
            kind=step.kind,
            movement=step.movement,
            seconds=step.seconds,
            reps=step.reps,
            up=step.up_seconds,
            down=step.down_seconds,
            range=step.range,
            load=load_text(self.words, step.load_kg, self.weights) if step.load_kg or step.kind == "reps" else "",
            name=said.name,
            cue=said.cue,
            hint=said.hint,
        )

    def sheet(self, steps: tuple[Step, ...]) -> list[int]:
        """Write a sheet as indexes into the list of all steps."""
        return [self.steps.setdefault(step, len(self.steps)) for step in steps]

    def all_steps(self) -> list[wire.Step]:
        """Write all steps that the sheets use; must be called after all sheets are written."""
        step_texts = (step_words(self.words, step, self.spoken, self.weights) for step in self.steps)
        return [self.step(step, said) for step, said in zip(self.steps, step_texts, strict=True)]

    def change_arm(self) -> dict[str, wire.Step]:
        """Write the step that changes to each arm; it comes before that arm's sheet."""
        step = cue_sheet.change_arm(self.plan)
        return {arm: self.step(step, change_arm_words(self.words, arm)) for arm in ("right", "left")}

    def movements(self) -> dict[str, wire.Movement]:
        """Write the movements that the routine uses."""
        routine = self.plan.routine
        stretches, warm_ups = ({part.movement for part in each} for each in (routine.stretches, routine.warm_ups))
        used = {*routine.directions, *stretches, *warm_ups}
        return {id_: self._movement(self.said[id_]) for id_ in sorted(used)}

    def _movement(self, movement: Movement) -> wire.Movement:
        return wire.Movement(
            name=self.names[movement.id],
            mistakes=movement.mistakes,
            leave_out=movement.leave_out,
            cues=wire.Cues(up=movement.cues.up, down=movement.cues.down),
            own=self._own(movement) if movement.own else UNSET,
        )

    def _own(self, movement: Movement) -> wire.OwnPart:
        own = movement.own
        assert own is not None, "only own movements come here"
        return wire.OwnPart(
            like=own.like,
            how=movement.how,
            purpose=movement.purpose.text,
            cautions=cautions_of(self.words, movement.kind, own.leave_out),
            up=UNSET if own.arc_up is None else own.arc_up,
            down=UNSET if own.arc_down is None else own.arc_down,
        )

    def warnings(self) -> list[wire.Sign]:
        """Write the warning signs, the most urgent first: whether each holds an arm, and whether it holds both."""
        ordered = sorted(self.shelf.warnings, key=lambda sign: LEVELS.index(sign.level))
        return [
            wire.Sign(
                id=sign.id,
                level=sign.level,
                is_whole=sign.is_whole,
                holds=sign.holds,
                text=self.words.say(sign.text),
            )
            for sign in ordered
        ]

    def to_do(self) -> dict[str, str]:
        """Write, for each level of warning signs, what the client must do."""
        return {level: self.words.say(self.shelf.to_do[level]) for level in LEVELS}

    def to_know(self) -> dict[str, str]:
        """Write the further text below it, for the levels that have one."""
        return {level: self.words.say(note) for level, note in self.shelf.to_know.items()}

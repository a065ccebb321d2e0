"""The numbers as rows: settings that may be tuned, values that are entered, figures, and their sources."""

from collections.abc import Iterator, Mapping
from dataclasses import fields

from webapp.dosing import figures
from webapp.dosing.figures import Figure
from webapp.dosing.findings import numbers as review
from webapp.dosing.settings import BOUNDS, Tempo, Tuning, WarmUp
from webapp.rulebook.section import Section
from webapp.rulebook.wording import Wording
from webapp.words import rulebook as say
from webapp.words import rulebook_terms as terms

DEFAULTS = {field.name: field.default for kind in (Tuning, Tempo, WarmUp) for field in fields(kind)}


def _bound(wording: Wording, name: str) -> tuple[str, ...]:
    bound, default = BOUNDS[name], DEFAULTS.get(name)
    usual = wording.number(default) if isinstance(default, (int, float)) else wording.say(say.NOTHING)
    low, high = wording.number(bound.low), wording.number(bound.high)
    return wording.say(terms.SETTINGS[name]), usual, low, high, wording.say(bound.unit), wording.basis(bound.basis)


def bounds(wording: Wording) -> Iterator[Section]:
    """Yield two parts with the bounds of `settings.BOUNDS`: first the tuned settings, then all other entered values."""
    for name, is_tuned in (("tuned", True), ("entered", False)):
        rows = [_bound(wording, each) for each in BOUNDS if (each in DEFAULTS) is is_tuned]
        yield wording.section(name, rows, "settings")


def every_figure() -> Iterator[tuple[str, str, Figure]]:
    """Yield (name, part, figure) for every figure of the core and of the review; `part` is "" where a name has one figure."""
    for name, value in (vars(figures) | vars(review)).items():
        if isinstance(value, Figure):
            yield name, "", value
        elif name.isupper() and isinstance(value, (Mapping, tuple)):
            parts = value.items() if isinstance(value, Mapping) else enumerate(value)
            yield from ((name, str(part), figure) for part, figure in parts)


def _figure(wording: Wording, name: str, part: str, figure: Figure) -> tuple[str, ...]:
    names = [wording.say(terms.FIGURES[name])] + ([wording.say(terms.FIGURE_PARTS[part])] if part else [])
    return (
        wording.words.listed(names),
        wording.number(figure.value),
        wording.say(figure.unit),
        wording.basis(figure.source),
    )


def all_figures(wording: Wording) -> Section:
    """Return every figure with its value, its unit and its source."""
    return wording.section("figures", (_figure(wording, *entry) for entry in every_figure()))


def sources(wording: Wording) -> Section:
    """Return every source: its key, author and year, what is taken from it, and how it was seen."""
    listed = wording.sources.values()
    rows = (
        (each.key, wording.say(each.cite), wording.say(each.gives), wording.say(terms.MARKS[each.mark]))
        for each in listed
    )
    return wording.section("sources", rows)

"""The bands as an SVG drawing: a row for each subject, a column for each kind. Readable in print and without colour."""

import textwrap
from collections.abc import Sequence
from typing import Any
from xml.etree import ElementTree as ET

from webapp.forecast.bands import SUBJECTS
from webapp.words import Words
from webapp.words import forecast as say

PAPER, INK, DO, EASE = "#d2e3d3", "#25122f", "#f5b81c", "#2b3fa3"
"""The day's ground, ink, do and ease of the app's pages."""
TYPE = "Overpass, system-ui, 'DejaVu Sans', sans-serif"
WIDTH, HEIGHT = 960, 940
LEFT, TOP, GAP, ROW_GAP = 70, 178, 34, 48
PANEL_WIDTH, PANEL_HEIGHT = 260, 132
TINTS = {"rung": DO, "work_j": DO, "morning": INK, "rest_share": EASE}
NOTE_LETTERS = 125
FIXED_TOP = {"morning": 10.0, "rest_share": 1.0}
Point = tuple[float, float]


def _text(parent: ET.Element, at: Point, text: str, size: int = 13, **look: str) -> None:
    attributes = {"x": f"{at[0]:.1f}", "y": f"{at[1]:.1f}", "font-size": str(size), "fill": INK}
    ET.SubElement(
        parent, "text", attributes | {name.replace("_", "-"): value for name, value in look.items()}
    ).text = text


def _line(parent: ET.Element, points: Sequence[Point], width: float, **look: str) -> None:
    path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
    dress = {"points": path, "fill": "none", "stroke": INK, "stroke-width": str(width)}
    ET.SubElement(parent, "polyline", dress | {name.replace("_", "-"): value for name, value in look.items()})


class _Panel:
    """The plot of one subject and kind: maps weeks and values to points on the sheet."""

    def __init__(self, column: int, row: int, weeks: int, top: float) -> None:
        self.x, self.y = LEFT + column * (PANEL_WIDTH + GAP), TOP + row * (PANEL_HEIGHT + ROW_GAP)
        self.weeks, self.top = weeks, top

    def point(self, week: float, value: float) -> Point:
        across = (week - 1) / max(1, self.weeks - 1)
        return self.x + PANEL_WIDTH * across, self.y + PANEL_HEIGHT * (1 - value / self.top)

    def frame(self, parent: ET.Element, top_text: str, week_word: str) -> None:
        _line(parent, [self.point(1, self.top), self.point(1, 0), self.point(self.weeks, 0)], 2.5)
        _text(parent, (self.x - 8, self.y + 5), top_text, 11, text_anchor="end")
        _text(parent, (self.x - 8, self.y + PANEL_HEIGHT + 4), "0", 11, text_anchor="end")
        for week in {1, (self.weeks + 1) // 2, self.weeks}:
            at = self.point(week, 0)
            _line(parent, [at, (at[0], at[1] + 4)], 2.5)
            label = f"{week_word} {week}" if week == 1 else str(week)
            _text(parent, (at[0], at[1] + 17), label, 11, text_anchor="start" if week == 1 else "middle")

    def band(self, parent: ET.Element, bands: Sequence[Sequence[float]], tint: str) -> None:
        low, middle, high = (
            [self.point(week, cut) for week, cut in enumerate(cuts, 1)] for cuts in zip(*bands, strict=True)
        )
        around = " ".join(f"{x:.1f},{y:.1f}" for x, y in [*high, *reversed(low)])
        ET.SubElement(parent, "polygon", {"points": around, "fill": tint, "fill-opacity": "0.3"})
        for edge in (low, high):
            _line(parent, edge, 1.5, stroke_dasharray="3 3")
        _line(parent, middle, 2.5)


def _top_of(answer: dict[str, Any], subject: str) -> float:
    most = max(row[subject][-1] for kind in answer["kinds"] for row in kind["weeks"])
    return FIXED_TOP.get(subject, max(1.0, float(-(-most // 5) * 5)))


def _sheet(words: Words, answer: dict[str, Any]) -> ET.Element:
    size = {"viewBox": f"0 0 {WIDTH} {HEIGHT}", "role": "img", "font-family": TYPE}
    sheet = ET.Element("svg", {"xmlns": "http://www.w3.org/2000/svg", **size})
    ET.SubElement(sheet, "title").text = words.say(say.SIMULATION)
    ET.SubElement(sheet, "desc").text = words.say(say.MODEL)
    ET.SubElement(sheet, "rect", {"width": "100%", "height": "100%", "fill": PAPER})
    _text(sheet, (LEFT, 52), words.say(say.SIMULATION), 26, font_weight="700")
    gaps = {name: answer[name] for name in ("weeks", "clients", "seed", "dice")}
    _text(sheet, (LEFT, 80), words.say(say.HEAD, **gaps), 13)
    _text(sheet, (LEFT, 98), words.say(say.DRAWN), 13)
    _line(sheet, [(LEFT, 112), (WIDTH - 30, 112)], 2.5)
    return sheet


def draw_bands(words: Words, answer: dict[str, Any]) -> str:
    """Draw a forecast.

    Args:
        words: The language.
        answer: The result of `report.forecast`.

    Returns:
        An SVG document that loads nothing from outside.
    """
    sheet = _sheet(words, answer)
    for column, kind in enumerate(answer["kinds"]):
        _text(
            sheet, (LEFT + column * (PANEL_WIDTH + GAP), 140), words.say(say.KINDS[kind["kind"]]), 19, font_weight="700"
        )
        for row, subject in enumerate(SUBJECTS):
            top = _top_of(answer, subject)
            panel = _Panel(column, row, answer["weeks"], top)
            panel.band(sheet, [week[subject] for week in kind["weeks"]], TINTS[subject])
            panel.frame(sheet, f"{100 * top if subject == 'rest_share' else top:g}", words.say(say.WEEK))
            if column == 0:
                _text(sheet, (panel.x + 8, panel.y - 8), words.say(say.SUBJECTS[subject]), 13, font_weight="700")
    for number, line in enumerate(textwrap.wrap(words.say(say.MODEL), NOTE_LETTERS)):
        _text(sheet, (LEFT, HEIGHT - 44 + 16 * number), line, 11)
    ET.indent(sheet)
    return ET.tostring(sheet, encoding="unicode") + "\n"

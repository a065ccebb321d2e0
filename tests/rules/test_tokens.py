"""The colours of both themes: words can be read, and no two meanings look alike to an eye without one kind of cone.

Contrast is WCAG 2.2's: https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio, with 7:1 for running text (success criterion 1.4.6),
4.5:1 for other words (1.4.3), 3:1 for shapes (1.4.11). Eyes without one kind of cone are simulated after Machado, Oliveira and
Fernandes (2009), and distances are those of CIEDE2000 (ISO/CIE 11664-6), both as the library coloraide has them.
"""

import re
from importlib import resources
from itertools import combinations

import pytest
from coloraide import Color

from webapp import rulebook
from webapp.forecast import drawing
from webapp.packing import sources_dir

SHEETS = sorted(sources_dir().rglob("*.css"))
TOKENS = (sources_dir() / "css/tokens.css").read_text(encoding="utf-8")
DAY, NIGHT, FORCED = (
    dict(re.findall(r"--([\w-]+): ([^;]+);", block)) for block in re.findall(r":root \{(.+?)\}", TOKENS, re.DOTALL)
)
THEMES = {"day": DAY, "night": {**DAY, **NIGHT}}
RUNNING = [
    ("ink", "ground"),
    ("ink", "lift"),
    ("ink", "shade"),
    ("soft", "ground"),
    ("soft", "lift"),
    ("on-rest", "rest"),
    ("on-do", "do"),
]
WORDS = [
    ("ground", "ink"),
    ("soft", "shade"),
    ("ease", "ground"),
    ("ease", "lift"),
    ("on-sharp", "sharp"),
    ("mark", "ground"),
    ("mark", "lift"),
    ("mark", "shade"),
]
# A field of `do` is seen by its edge of ink; a field of what stops has no edge.
SHAPES = [("ink", "ground"), ("sharp", "ground"), ("on-sharp", "rest"), ("ease", "lift")]
MEANINGS = ("ink", "do", "ease", "sharp", "mark", "ground")
# A just visible difference is about 1; 10 is as far apart as two neighbours in a box of a dozen crayons. Own choice.
FAR_APART = 10
CONES = {"deuteranopia": "deutan", "protanopia": "protan", "tritanopia": "tritan"}


def luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(front: str, back: str) -> float:
    darker, lighter = sorted((luminance(front), luminance(back)))
    return (lighter + 0.05) / (darker + 0.05)


def seen_without(cone: str, colour: str) -> Color:
    return Color(colour).filter(CONES[cone], 1, method="machado").clip("srgb")


def test_contrast_is_measured_as_the_standard_does():
    """Black on white is 21:1; #767676 on white is 4.54:1, the well-known edge of AA (value from memory)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(
    ("pairs", "least"), [(RUNNING, 7), (WORDS, 4.5), (SHAPES, 3)], ids=["running", "words", "shapes"]
)
def test_what_is_read_has_enough_contrast(theme, pairs, least):
    colours = THEMES[theme]
    found = {pair: round(contrast(colours[pair[0]], colours[pair[1]]), 2) for pair in pairs}
    assert {pair: ratio for pair, ratio in found.items() if ratio < least} == {}


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("cone", CONES)
def test_meanings_are_told_apart_without_one_kind_of_cone(theme, cone):
    colours = {name: THEMES[theme][name] for name in MEANINGS}
    # By day what is wrong and what stops are one colour.
    pairs = [pair for pair in combinations(MEANINGS, 2) if set(pair) != {"sharp", "mark"}]
    seen = {name: seen_without(cone, colour) for name, colour in colours.items()}
    apart = {(a, b): seen[a].delta_e(seen[b], method="2000") for a, b in pairs}
    assert {pair: round(far, 1) for pair, far in apart.items() if far < FAR_APART} == {}


def test_every_colour_has_a_value_by_night_and_where_colours_are_forced():
    colours = {name for name, value in DAY.items() if re.match(r"#|rgb", value)}
    assert colours - NIGHT.keys() <= {"on-sharp"}
    assert colours - FORCED.keys() == set()


def test_colours_stand_in_the_tokens_alone():
    """A picture code is read by a camera: it is black on white in both themes."""
    named = {
        path.name: re.findall(r"#[0-9a-fA-F]{3,8}\b(?=[;\s,)])", path.read_text(encoding="utf-8")) for path in SHEETS
    }
    assert {name: found for name, found in named.items() if found and name != "tokens.css"} == {"intake.css": ["#fff"]}


def test_the_rule_book_has_the_same_tokens():
    """It is one file that names no other, so its tokens are written once more; on paper they are black and white."""
    own = resources.files(rulebook).joinpath("colours.css").read_text(encoding="utf-8")
    day, night = (
        dict(re.findall(r"--([\w-]+):\s+([^;]+);", block))
        for block in re.findall(r":root \{(.+?)\}", own, re.DOTALL)[:2]
    )
    tokens = dict(re.findall(r"--([\w-]+):\s+([^;]+);", TOKENS.partition("@media")[0]))
    assert day.items() <= tokens.items()
    assert night.items() <= NIGHT.items()
    assert {name for name, value in day.items() if value.startswith("#")} == set(night)


def test_a_drawn_forecast_has_the_colours_of_the_day():
    assert tuple(DAY[name] for name in ("ground", "ink", "do", "ease")) == (
        drawing.PAPER,
        drawing.INK,
        drawing.DO,
        drawing.EASE,
    )


def test_every_token_that_a_sheet_uses_is_there():
    known = set(re.findall(r"(--[\w-]+):", "".join(path.read_text(encoding="utf-8") for path in SHEETS)))
    used = {name for path in SHEETS for name in re.findall(r"var\((--[\w-]+)\)", path.read_text(encoding="utf-8"))}
    assert used - known == set()

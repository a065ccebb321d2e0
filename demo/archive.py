"""Invented clients in the archive: one of whom nothing was heard since, and one who goes on. Nobody here is real."""

from story import Story

KILOS = ((0, "kg"), (0.5, "kg"), (1, "kg"), (1.5, "kg"))

ARCHIVED = (
    Story(
        "Ilse Karlovic",
        "ilse-karlovic",
        "outer_elbow",
        ("right",),
        {"mass_kg": 66.0, "height_m": 1.7, "sex": "female"},
        KILOS,
        1,
        "Fits window lead. Moves to the coast in spring.",
        "gggggggg" + "." * 20,
        archived={15: "Moved away; goes on with somebody there."},
    ),
    Story(
        "Edmar Stoll",
        "edmar-stoll",
        "wrist",
        ("left",),
        {"mass_kg": 73.0, "height_m": 1.76, "sex": "male"},
        KILOS,
        2,
        "Letter cutter. Said that he had no time for it before summer.",
        "ggggggg" + "." * 9 + "gg",
        archived={14: "No time until summer; two calls, then none."},
    ),
)

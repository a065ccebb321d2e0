"""Invented clients on a way back to sport or work: one goes well, one was stopped by two outings. Nobody here is real."""

from story import Story, Way

KILOS = ((0, "kg"), (1, "kg"))

ON_A_WAY_BACK = (
    Story(
        "Leontine Bask",
        "leontine-bask",
        "outer_elbow",
        ("right",),
        {"mass_kg": 68.0, "height_m": 1.74, "sex": "female"},
        KILOS,
        2,
        "Rows the pilot boat. Wants the oar back before the regatta, and has time until then.",
        "gghggghggghggghggghggghggghgggg",
        start_rung=12,
        way=Way(
            "hard_grip",
            22,
            "The weight is calm. Five minutes with a thick handle, twice a week.",
            {23: 1, 26: 2, 30: 1},
        ),
    ),
    Story(
        "Rurik Aland",
        "rurik-aland",
        "outer_elbow",
        ("left",),
        {"mass_kg": 83.0, "height_m": 1.86, "sex": "male"},
        KILOS,
        1,
        "Farrier. Said that he would begin with the light hammer; it was the heavy one, twice.",
        "ggggggggggggggggggggggrrrrrrgggrr",
        start_rung=12,
        way=Way(
            "hard_grip",
            21,
            "Calm for three weeks. A light hammer, five minutes, and stop at sharp pain.",
            {22: 6, 31: 6},
        ),
    ),
)

"""The invented people of the demo practice. Nobody here is real. Those in trouble are in `troubles.py` and `standstills.py`."""

from collections.abc import Mapping
from typing import Any

from story import Story

PRACTITIONER = "Orla Venn"
EMAIL = "orla@venn.example"
TELEPHONE, HOURS, LETTERS_READ = "0555 0143", "weekdays 9 to 17", "within two working days"
PASSWORD = "four slow bells"  # noqa: S105 - printed at every start

# The practitioner's note to each client with the first routine. The note of a story is only for the practitioner.
WORD_ALONG = "Send me your mornings, the calm ones too. If you are unsure of a movement, leave it out and ask me."

# A flare in the third week, away in the sixth, sport from the eighth on, a stop and a return in the ninth.
TWELVE_WEEKS = "gggtggggggpgggggfrgggggaggqgggggggg.......gggtgggggagtggghg!rrrggggghghghhhghhhihihh"

STORIES = (
    Story(
        "Ansgar Tolle",
        "ansgar-tolle",
        "outer_elbow",
        ("right",),
        {"mass_kg": 82.0, "height_m": 1.81, "sex": "male"},
        ((0, "lb"), (1, "lb"), (2, "lb"), (3, "lb")),
        2,
        "Files and dresses bells all day; the right arm holds the file. Changing hands for the first rough pass.",
        "ggggggggtgpggghhhahhhfrgghh",
        (
            (
                5,
                "The big bell took all Saturday. Monday was a 3.",
                "Two calm days will do. Change hands for the first pass.",
            ),
        ),
    ),
    Story(
        "Mirela Quist",
        "mirela-quist",
        "outer_elbow",
        ("right", "left"),
        {"mass_kg": 58.5, "height_m": 1.66, "sex": "female"},
        ((0, "kg"), (0.5, "kg"), (1, "kg")),
        3,
        "Bookbinder. Sews with the right, holds the press with the left; both complain after a long day at the press.",
        "gggtggggttgg!",
    ),
    Story(
        "Teodor Brand",
        "teodor-brand",
        "wrist",
        ("right",),
        {"mass_kg": 90.0, "height_m": 1.88, "sex": None},
        ((0, "lb"), (2, "lb")),
        2,
        "Deck hand on the river ferry; hauls rope in all weathers. Phone is often out of reach, asked him to say so.",
        "gggggqggg.........",
        ((1, "We had high water, I was on board day and night. May I just go on where I stopped?", ""),),
    ),
    Story(
        "Wenzel Aro",
        "wenzel-aro",
        "outer_elbow",
        ("left",),
        {"mass_kg": 77.0, "height_m": 1.74, "sex": "male"},
        ((0, "kg"), (0.5, "kg"), (1, "kg")),
        2,
        "Luthier; planes and scrapes with the left. Joined this week, had not begun when I last looked.",
        ".",
        ticked=("heart",),
    ),
    Story(
        "Sanna Pruett",
        "sanna-pruett",
        "outer_elbow",
        ("right",),
        {"mass_kg": 66.0, "height_m": 1.72, "sex": "female"},
        ((0, "kg"), (0.5, "kg"), (1, "kg")),
        3,
        "Mends umbrellas; plays badminton twice a week and wants it back. Twelve weeks agreed.",
        TWELVE_WEEKS,
        habit="straight_wrist",
        away={43: (7, "travelling")},
        sport=(50, 54, 57, 64, 68, 71, 75, 78, 82),
        released=(63,),
        activities={
            "Lifting the full kettle": {
                **dict.fromkeys((1, 8), 3),
                **dict.fromkeys((15, 22, 29), 4),
                **dict.fromkeys((43, 50), 6),
                **dict.fromkeys((57, 64), 5),
                **dict.fromkeys((71, 78), 8),
                85: 9,
            },
            "Turning the workshop key": {1: 5, 15: 6, 29: 7, 57: 8, 85: 10},
        },
        versions={31: "Good weeks. I have checked your routine, and it stays as it is. The note is new."},
    ),
    Story(
        "Ottmar Wyle",
        "ottmar-wyle",
        "outer_elbow",
        ("right",),
        {"mass_kg": 79.0, "height_m": 1.77, "sex": "male"},
        ((0, "kg"), (0.5, "kg")),
        2,
        "Paperhanger, the right arm brushes. Wants to keep what he has through the busy months.",
        "ggghhhgghhhghhhgghhhghhhhhhhhh...hh",
        course=("maintenance", 2, 5, "You hang a whole room without thinking of the arm. Two days a week keep that."),
    ),
    Story(
        "Brisa Calloway",
        "brisa-calloway",
        "inner_elbow",
        ("left",),
        {"mass_kg": 61.0, "height_m": 1.69, "sex": "female"},
        ((0, "kg"), (0.5, "kg")),
        2,
        "Stained glass; the left arm holds the pane. Done in early summer, asked her to write if it comes back.",
        "ggghhhgghhhghhhgghhhghhhhh" + "." * 12,
        course=(
            "ended",
            0,
            12,
            "Every pane since spring without a sore morning. Well done, and keep both hands on the big ones.",
        ),
    ),
    Story(
        "Isaura Linde",
        "isaura-linde",
        "inner_elbow",
        ("left",),
        {"mass_kg": 64.0, "height_m": 1.70, "sex": "female"},
        ((0, "kg"), (0.5, "kg")),
        1,
        "Cellist, the left hand fingers. Rehearses four hours a day, concerts at the end of the month.",
        on_phone=False,
    ),
)

# What a client told on the phone of whom the practitioner had entered only the name.
TOLD: Mapping[str, Any] = {
    "arms": ["right"],
    "places": ["outer_elbow", "forearm_back"],
    "usual": 3,
    "activities": [{"name": "Turning the press", "rating": 4}, {"name": "Lifting my son", "rating": 6}],
    "weights_kg": [0.5, 1],
    "sport_days": 2,
    "other_care": ["doctor"],
    "mass_kg": 68.0,
    "height_m": 1.72,
}

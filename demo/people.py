"""The invented people of the demo practice, and their last weeks. Days count back from today. Nobody here is real."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

PRACTITIONER = "Orla Venn"
EMAIL = "orla@venn.example"
TELEPHONE, HOURS, LETTERS_READ = "0555 0143", "weekdays 9 to 17", "within two working days"
PASSWORD = "four slow bells"  # noqa: S105 - printed at every start

# The practitioner's note to each client with the first routine. The note of a story is only for the practitioner.
WORD_ALONG = "Send me your mornings, the calm ones too. If you are unsure of a movement, leave it out and ask me."

# A story has one letter for each day, the oldest first. For each letter: the worst rating of the day's sessions, or None
# without a session; and the next morning's rating minus the usual one, or None without a report.
#   g settled   h settled, a better morning   i settled, a far better morning   t tender   a aching   p half of it done   q no report the next morning
#   f flared   r a day of rest, with a report   . nothing at all   ! sharp pain in the session, in the first arm
LETTERS: Mapping[str, tuple[int | None, int | None]] = {
    "g": (2, 0),
    "h": (1, -1),
    "i": (1, -2),
    "t": (3, 1),
    "a": (4, 0),
    "p": (2, 0),
    "q": (2, None),
    "f": (6, 1),
    "r": (None, 0),
    ".": (None, None),
    "!": (3, None),
}

# By letter, what else the client said about the last session of the day; the sets that were done follow from it.
DETAILS: Mapping[str, Mapping[str, Any]] = {
    "t": {
        "eased": [{"step": 9, "what": "range", "movement": "palm_down"}],
        "note": "Pulled a little palm down; better with less range.",
    },
    "a": {"note": "Ached from the second movement on, gone by the evening."},
    "p": {"ended": "stopped", "why": "time"},
    "q": {"ways": ["short"]},
    "f": {
        "eased": [
            {"step": 9, "what": "range", "movement": "palm_down"},
            {"step": 15, "what": "leave", "movement": "little_finger_up"},
        ],
        "note": "Long day at work before it.",
    },
    "!": {"ended": "sharp", "sharp_told": {"where": "outer_elbow", "like": "stab", "sign": False}},
}


@dataclass(frozen=True)
class Story:
    """One client of the demo practice.

    Attributes:
        note: What the practitioner wrote at the first visit; only the case page shows it.
        weights: Value and unit of each weight at home, with the bare hand (0).
        days: A letter of LETTERS for each day; the last letter is for yesterday.
        ticked: The signs of the safety questions that are true, by id.
        letters: (days ago, what the client wrote, what the practitioner answered on the next day or ""), the oldest first.
        on_phone: Whether a phone has joined. If not, the invitation is still unused.
        sport: The numbers of the days with sport; the first day is 1.
        released: The numbers of the days on which the practitioner lets the arms start again.
        versions: The note to each later version of the routine, by the number of the day on which it comes.
        habit: The habit that the practitioner chose on the first day, by its id; "" for none.
        away: (days, what they were) of a stretch without a word, by the number of the day on which the client told of it.
        activities: How well the client can do each of their own activities, 0 to 10, by the number of the day.
        course: (what the practitioner has set, days a week or 0, days ago, the reason that the client reads).
    """

    name: str
    public_id: str
    area: str
    arms: tuple[str, ...]
    body: Mapping[str, Any]
    weights: tuple[tuple[float, str], ...]
    usual: int
    note: str
    days: str = ""
    letters: tuple[tuple[int, str, str], ...] = ()
    on_phone: bool = True
    ticked: tuple[str, ...] = ()
    sport: tuple[int, ...] = ()
    released: tuple[int, ...] = ()
    versions: Mapping[int, str] = field(default_factory=dict)
    habit: str = ""
    away: Mapping[int, tuple[int, str]] = field(default_factory=dict)
    activities: Mapping[str, Mapping[int, int]] = field(default_factory=dict)
    course: tuple[str, int, int, str] | None = None


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

"""The body of the entry by which the practice sets what a client's course is: training, maintenance, a rest, or ended."""

from typing import Literal

from msgspec import UNSET, Struct, UnsetType


class CourseBody(Struct, kw_only=True):
    """From the entry's day on: training, so many days of seven, a rest until a day, or ended; why, by whom, and when to be seen again."""

    to: Literal["training", "maintenance", "rest", "ended"]
    days_a_week: int | UnsetType = UNSET
    until: str | UnsetType = UNSET
    reason: str
    by: str
    seen_again_on: str | UnsetType = UNSET

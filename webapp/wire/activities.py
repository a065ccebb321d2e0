"""The bodies of entries about the client's own activities, as JSON."""

from msgspec import Struct


class NamedBody(Struct, kw_only=True):
    """The activities that the client is asked about: up to three, in the client's words, the first asked each week."""

    activities: list[str]


class RatedBody(Struct, kw_only=True):
    """How well an activity can be done, 0 (not at all) to 10 (as before); it is known by its words."""

    activity: str
    rating: int
